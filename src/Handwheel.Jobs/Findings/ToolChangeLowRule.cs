using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class ToolChangeLowRule(Facts facts) : Rule(facts)
{
    readonly long height = (facts.Setup.Machine.ToolChangeZ ?? facts.Setup.Machine.Travel.Z.High).Nanometres;

    public override RuleInfo Info { get; } = new("tool-change-low", Level.Stop, "A tool change below its height");

    public override void ToolChange(in ControlState state, int previousTool, in Place before)
    {
        if (Facts.Setup.Machine.Reads.ToolChangeRetracts || before.RestZ == Place.Nowhere)
            return;
        if (before.RestZ != 0)
        {
            Facts.NotChecked.Say(
                $"height of the tool change at line {Figures.Whole(state.Line)}: machine Z is not known"
            );
            return;
        }
        if (before.Z >= height || Again(0, state))
            return;
        Report(
            0,
            state,
            Said.Kept(
                $"M6 with machine Z at {Facts.Figures.Bare(before.Z)}, {Facts.Figures.Say(height - before.Z)} below the tool-change height of {Facts.Figures.Bare(height)}. This machine does not retract by itself."
            ),
            "Retract before the tool change: G91 G28 Z0, or G53 G0 Z0."
        );
    }
}
