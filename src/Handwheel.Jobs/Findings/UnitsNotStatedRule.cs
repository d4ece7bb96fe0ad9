using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class UnitsNotStatedRule(Facts facts) : Rule(facts)
{
    bool moved;

    public override RuleInfo Info { get; } =
        new("units-not-stated", Level.Check, "No G20 or G21 before the first move");

    public override bool Watches(in ControlState state) => !moved;

    public override bool SeenEnough => moved;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (moved || leg.Kind == LegKind.ReturnEnd)
            return;
        moved = true;
        if (state.UnitsStated)
            return;
        var unit = state.Units == Units.Inch ? Said.Kept("inch (G20)") : Said.Kept("millimetres (G21)");
        Report(
            0,
            state,
            Said.Kept(
                $"Nothing says whether lengths are inch or millimetres. They were read in the setup's unit, {unit}; the control reads them in whatever was left in force."
            ),
            "Put G20 or G21 at the start of the program."
        );
    }
}
