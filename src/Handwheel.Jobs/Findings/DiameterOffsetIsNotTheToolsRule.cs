using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class DiameterOffsetIsNotTheToolsRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("diameter-offset-is-not-the-tools", Level.Stop, "The diameter offset belongs to another tool");

    public override Changes Hears => Changes.Compensation;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Compensation) == Changes.None || state.Compensation == CutterCompensation.Off)
            return;
        if (state.D == 0 || Facts.Tool is not { } tool)
            return;
        if (tool.DiameterOffset is not { } own)
        {
            Facts.NotChecked.Say(
                $"diameter offset of T{Figures.Whole(tool.Number)}: the setup does not say which D is its own"
            );
            return;
        }
        if (state.D == own || tool.AlsoDiameterOffsets.Contains(state.D))
            return;
        var cause = tool.Number * 100_000L + state.D;
        if (Again(cause, state))
            return;
        Report(
            cause,
            state,
            Said.Kept(
                $"{(state.Compensation == CutterCompensation.Left ? "G41" : "G42")} with D{Figures.Whole(state.D)}, but the own diameter offset of T{Figures.Whole(tool.Number)} is D{Figures.Whole(own)}."
            ),
            $"Write D{Figures.Whole(own)}, or, where this D really belongs to T{Figures.Whole(tool.Number)}, say so in the setup."
        );
    }
}
