using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class WholeNumberLengthsRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("whole-number-lengths", Level.Check, "Lengths without a decimal point");

    public override Changes Hears => Changes.WholeNumber;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.WholeNumber) == Changes.None || Again(0, state))
            return;
        var increments = Facts.Setup.Machine.Reads.WholeNumbersAreIncrements;
        var unit = state.Units == Units.Inch ? "in" : "mm";
        var read = increments
            ? Said.Kept($"as least increments ({(state.Units == Units.Inch ? "0.0001 in" : "0.001 mm")})")
            : Said.Kept($"as whole {unit}");
        Report(
            0,
            state,
            Said.Kept(
                $"A length has no decimal point; it was read {read}, as the setup says this control does. A control set the other way goes {(state.Units == Units.Inch ? "10 000" : "1000")} times {(increments ? Said.Kept("as far") : Said.Kept("less far"))}."
            ),
            "Write the point (X1. for X1), or make sure of the control's setting."
        );
    }
}
