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
            ? $"Z moves with {tool} and no length offset in force."
            : $"Z moves with {tool} under H{Figures.Whole(state.H)}, which was left in force by the tool before.";
        Report(
            state.Tool,
            state,
            what + TipText(state, leg),
            "Put G43 with the tool's own H before or into the first move in Z; retract with G53 or a reference return."
        );
    }

    string TipText(in ControlState state, in Leg leg)
    {
        if (!Facts.TryTip(leg.To, out var tip) || state.RestZ != 0)
            return " Where the tip goes is not known.";
        var off = state.LengthZ - Facts.Own;
        if (off == 0)
            return " The tip goes where the program says, by chance of the registers.";
        var zero = state.WorkZ + state.CommonZ;
        return $" The program says Z {Facts.Figures.Bare(state.FromZeroZ(leg.To))}; the tip goes to Z {Facts.Figures.Say(tip - zero)}, "
            + $"{Facts.Figures.Say(Math.Abs(off))} {(off > 0 ? "above" : "below")} it.";
    }
}
