using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class CannotReadRule(Facts facts) : Rule(facts)
{
    (int File, int Line) last;

    public override RuleInfo Info { get; } = new("cannot-read", Level.Stop, "Something that cannot be read");

    public override void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind != FaultKind.CannotRead)
            return;
        Facts.Window.Undo(
            state.BlocksExecuted,
            Said.Kept($"line {Figures.Whole(state.Line)} cannot be read, so nobody knows what it moves")
        );
        var cause = Book.Cause(fault.Cause);
        if ((state.File, state.Line) == last || Again(cause, state))
            return;
        last = (state.File, state.Line);
        var at = fault.Column > 0 ? Said.Kept($" in column {Figures.Whole(fault.Column)}") : "";
        var expected = fault.Expected is { } word ? Said.Kept($" Expected: {word}.") : "";
        Report(
            cause,
            state,
            Said.Kept($"“{fault.Cause}”{at} does not make sense.{expected}"),
            "Correct the block in the program, then check again. Everything after it is not proven."
        );
    }
}
