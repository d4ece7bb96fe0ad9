using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class ArcFullCircleByRadiusRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("arc-full-circle-by-radius", Level.Stop, "A full circle given by its radius");

    public override void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind != FaultKind.ArcFullCircleByRadius || Again(0, state))
            return;
        Report(
            0,
            state,
            Said.Kept(
                "The arc ends where it starts and gives only R: any number of circles fit, and controls do nothing or stop."
            ),
            "Give a full circle by its centre, I and J, or as two half circles."
        );
    }
}
