using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class MovesBeforeWorkOffsetRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("moves-before-work-offset", Level.Check, "A move before any work offset is called");

    public override bool Watches(in ControlState state) => !state.WorkOffsetStated;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (state.WorkOffsetStated || !Facts.IsWork(leg.Kind) || Again(0, state))
            return;
        Report(
            0,
            state,
            Said.Kept(
                $"The axes move in work coordinates before the program calls a work offset. It was followed in {state.WorkOffset}; the control uses the one left in force."
            ),
            "Call the work offset before the first move."
        );
    }
}
