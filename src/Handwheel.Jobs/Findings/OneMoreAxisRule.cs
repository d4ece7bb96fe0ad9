using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class OneMoreAxisRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("one-more-axis", Level.Stop, "A rotary axis moves");

    public override Changes Hears => Changes.Rotary;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Rotary) == Changes.None)
            return;
        Facts.Window.Undo(
            state.BlocksExecuted,
            Said.Kept(
                $"a rotary axis moves at line {Figures.Whole(state.Line)}: after it turns, a raise in Z does not lift the tool off the part"
            )
        );
        if (Again(0, state))
            return;
        Report(
            0,
            state,
            Said.Kept(
                "A, B or C moves. Where the part, the stock and the clamps are after that was not followed: bounds, clearance and raise are as if nothing turned."
            ),
            "Prove this program another way, with the supervisor's signature. Check the tilted positions by hand."
        );
    }
}
