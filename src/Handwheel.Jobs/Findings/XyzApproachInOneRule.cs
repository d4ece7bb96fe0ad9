using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class XyzApproachInOneRule(Facts facts) : Rule(facts)
{
    bool due;

    public override RuleInfo Info { get; } =
        new("xyz-approach-in-one", Level.Check, "Down and across in one rapid after a tool change");

    public override void ToolChange(in ControlState state, int previousTool, in Place before) => due = true;

    public override bool Watches(in ControlState state) => due;

    public override bool SeenEnough => !due;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (!due || !Facts.IsWork(leg.Kind))
            return;
        due = false;
        if (leg.Kind != LegKind.Rapid || leg.Part != CyclePart.None || !GoesAcross(leg))
            return;
        if (GoesDown(leg))
            Say(state, leg);
        else if (IsLow(leg))
            SayLow(state, leg);
    }

    static bool GoesAcross(in Leg leg) =>
        leg.From.RestX != leg.To.RestX
        || leg.From.RestY != leg.To.RestY
        || leg.From.X != leg.To.X
        || leg.From.Y != leg.To.Y;

    static bool GoesDown(in Leg leg) =>
        (leg.Commanded & Axes.Z) != Axes.None && (leg.From.RestZ != leg.To.RestZ || leg.To.Z < leg.From.Z);

    bool IsLow(in Leg leg) =>
        Facts.Table.HighestTop is { } top && Facts.TryTip(leg.From, out var tip) && leg.To.RestZ == 0 && tip < top;

    void Say(in ControlState state, in Leg leg)
    {
        if (Again(state.Tool, state))
            return;
        Report(
            state.Tool,
            state,
            leg.From.RestZ == leg.To.RestZ
                ? Said.Kept(
                    $"The first move with {Facts.Name(state.Tool)} goes {Facts.Figures.Say(leg.From.Z - leg.To.Z)} down and across in one rapid: nobody can stop it over the right place, and with each axis at its own rate it is no straight line."
                )
                : Said.Kept(
                    $"The first move with {Facts.Name(state.Tool)} goes down and across in one rapid: nobody can stop it over the right place, and with each axis at its own rate it is no straight line."
                ),
            "Write X and Y first, and Z with G43 in the next block."
        );
    }

    void SayLow(in ControlState state, in Leg leg)
    {
        if (Again(state.Tool, state))
            return;
        Facts.TryTip(leg.From, out var tip);
        Report(
            state.Tool,
            state,
            Said.Kept(
                $"{Facts.Name(state.Tool)} goes across while its tip stands {Facts.Figures.Say(Facts.Table.HighestTop!.Value - tip)} below the highest part of stock and holding."
            ),
            "Retract Z before the first move across."
        );
    }
}
