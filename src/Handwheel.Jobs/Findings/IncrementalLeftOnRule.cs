using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class IncrementalLeftOnRule(Facts facts) : Rule(facts)
{
    bool due = true;

    public override RuleInfo Info { get; } =
        new("incremental-left-on", Level.Check, "The first move after a tool change is incremental");

    public override void ToolChange(in ControlState state, int previousTool, in Place before) => due = true;

    public override bool Watches(in ControlState state) => due;

    public override bool SeenEnough => !due;

    public override void Move(in ControlState state, in Leg leg)
    {
        if (!due || leg.Kind is not (LegKind.Rapid or LegKind.Feed))
            return;
        due = false;
        if (!state.Incremental || Again(0, state))
            return;
        Report(
            0,
            state,
            Said.Kept(
                $"The first move with T{Figures.Whole(state.Tool)} is under G91: it counts from wherever the axes stand."
            ),
            "Put G90 before it. G91 often stays in force from a reference return."
        );
    }
}
