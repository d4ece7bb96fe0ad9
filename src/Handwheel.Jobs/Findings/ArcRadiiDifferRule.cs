using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class ArcRadiiDifferRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("arc-radii-differ", Level.Stop, "An arc that does not end on its circle");

    public override void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind != FaultKind.ArcRadiiDiffer || Again(0, state))
            return;
        var figures = Facts.Figures;
        var tolerance = SettingsOf.ArcTolerance(Facts.Setup);
        Report(
            0,
            state,
            Said.Kept(
                $"The radius is {figures.Say(fault.First)} at the start and {figures.Say(fault.Second)} at the end: "
                    + $"{figures.Say(Math.Abs(fault.First - fault.Second))} apart, {figures.Say(tolerance)} is allowed."
            ),
            "Correct the end point or the centre (I, J, K or R)."
        );
    }
}
