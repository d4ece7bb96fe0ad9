using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class ArcNoCentreRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("arc-no-centre", Level.Stop, "An arc without a centre");

    public override void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind != FaultKind.ArcNoCentre || Again(0, state))
            return;
        Report(
            0,
            state,
            Said.Kept("G2 or G3 gives neither a radius nor a centre in the plane of the arc."),
            "Give R, or I and J (I and K in G18, J and K in G19)."
        );
    }
}
