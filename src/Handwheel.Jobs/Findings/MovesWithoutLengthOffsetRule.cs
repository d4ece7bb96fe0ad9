using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class MovesWithoutLengthOffsetRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("moves-without-length-offset", Level.Stop, "A move in Z before the tool's length offset");

    public override bool Watches(in ControlState state) => !state.LengthCommanded;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (state.LengthCommanded || !Facts.IsWork(leg.Kind) || (leg.Commanded & Axes.Z) == Axes.None)
            return;
        var cancelled = state.LengthMode == LengthMode.Off;
        if (state.ToolChanges == 0 && cancelled && Facts is { OwnKnown: true, Own: 0 })
            return;
        if (Again(state.Tool, state))
            return;
        var tool = "T" + Figures.Whole(state.Tool);
        var what = cancelled
            ? Said.Kept($"Z moves with {tool} and no length offset in force.{TipText(state, leg)}")
            : Said.Kept(
                $"Z moves with {tool} under H{Figures.Whole(state.H)}, which was left in force by the tool before.{TipText(state, leg)}"
            );
        Report(
            state.Tool,
            state,
            what,
            "Put G43 with the tool's own H before or into the first move in Z; retract with G53 or a reference return."
        );
    }

    string TipText(in ControlState state, in Leg leg)
    {
        if (!Facts.TryTip(leg.To, out var tip) || state.RestZ != 0)
            return Said.Kept(" Where the tip goes is not known.");
        var off = state.LengthZ - Facts.Own;
        if (off == 0)
            return Said.Kept(" The tip goes where the program says, by chance of the registers.");
        var zero = state.WorkZ + state.CommonZ;
        var (says, goes) = (Facts.Figures.Bare(state.FromZeroZ(leg.To)), Facts.Figures.Say(tip - zero));
        var by = Facts.Figures.Say(Math.Abs(off));
        return off > 0
            ? Said.Kept($" The program says Z {says}; the tip goes to Z {goes}, {by} above it.")
            : Said.Kept($" The program says Z {says}; the tip goes to Z {goes}, {by} below it.");
    }
}
