using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class ToolNotListedRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("tool-not-listed", Level.Stop, "A tool that the setup does not list");

    public override void ToolChange(in ControlState state, int previousTool, in Place before)
    {
        if (state.Tool == 0 || Facts.Tool is not null || Again(state.Tool, state))
            return;
        Report(
            state.Tool,
            state,
            Said.Kept(
                $"T{Figures.Whole(state.Tool)} comes into the spindle, but the setup does not list it. Its length and diameter are not known."
            ),
            "Add the tool to the setup, or correct the T word."
        );
    }

    public override bool Watches(in ControlState state) => state.Tool == 0;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (state.Tool == 0 && Facts.IsWork(leg.Kind))
            Facts.NotChecked.Say(
                state.ToolChanges == 0
                    ? "moves before the first tool change: the setup does not say which tool is in the spindle"
                    : "moves with T0: no tool is in the spindle"
            );
    }
}
