using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class LengthOffsetIsNotTheToolsRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("length-offset-is-not-the-tools", Level.Stop, "The length offset belongs to another tool");

    public override Changes Hears => Changes.Length;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Length) == Changes.None || !state.LengthCommanded || state.LengthMode == LengthMode.Off)
            return;
        if (!Facts.Setup.Rules.LengthOffsetMatchesTool || Facts.Tool is not { } tool)
            return;
        if (tool.LengthOffset is not { } own)
        {
            Facts.NotChecked.Say(
                $"length offset of T{Figures.Whole(tool.Number)}: the setup does not say which H is its own"
            );
            return;
        }
        if (state.H == own || tool.AlsoLengthOffsets.Contains(state.H))
            return;
        var cause = tool.Number * 100_000L + state.H;
        if (Again(cause, state))
            return;
        Report(
            cause,
            state,
            Said.Kept(
                $"H{Figures.Whole(state.H)} with T{Figures.Whole(tool.Number)}, whose own length offset is H{Figures.Whole(own)}.{Difference(state)}"
            ),
            $"Write H{Figures.Whole(own)}, or, where this H really belongs to T{Figures.Whole(tool.Number)}, say so in the setup."
        );
    }

    string Difference(in ControlState state)
    {
        var unknown = state.RestZ != 0 || !Facts.OwnKnown;
        if (unknown)
            return "";
        var off = state.LengthZ - Facts.Own;
        if (off == 0)
            return Said.Kept(" The two registers hold the same value.");
        var by = Facts.Figures.Say(Math.Abs(off));
        return off > 0
            ? Said.Kept($" The tip goes {by} above where the program says.")
            : Said.Kept($" The tip goes {by} below where the program says.");
    }
}
