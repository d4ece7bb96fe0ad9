using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class NeverEndsRule(Facts facts) : Rule(facts)
{
    const int LimitReached = 1;

    public override RuleInfo Info { get; } = new("never-ends", Level.Stop, "The program does not come to an end");

    public override void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind != FaultKind.NeverEnds)
            return;
        Undo(state);
        Report(
            LimitReached,
            state,
            Said.Kept($"Followed no further: {fault.Cause}, after {Figures.Whole(state.BlocksExecuted)} blocks."),
            "Look for a loop or a call that never returns. Everything after this line is not proven."
        );
    }

    public override void End(in ControlState state, RunEnd end)
    {
        if (end == RunEnd.Repeats)
        {
            Report(
                0,
                state,
                Said.Kept("M99 in the main program: it begins again by itself. One pass was followed."),
                "Make sure that the second pass starts from where the first one ends, or end the program with M30.",
                Level.Check
            );
        }
        if (end != RunEnd.Limit || Again(LimitReached, state))
            return;
        Undo(state);
        Report(
            LimitReached,
            state,
            Said.Kept($"Followed no further after {Figures.Whole(state.BlocksExecuted)} blocks: a limit was reached."),
            "Look for a loop or a call that never returns. Everything after this line is not proven."
        );
    }

    void Undo(in ControlState state) =>
        Facts.Window.Undo(
            state.BlocksExecuted,
            Said.Kept($"the program was followed only to line {Figures.Whole(state.Line)}")
        );
}
