using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class SameGroupTwiceRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("same-group-twice", Level.Stop, "Two words where a block can have one");

    public override void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind != FaultKind.SameGroupTwice)
            return;
        var cause = Book.Cause(fault.Cause);
        if (Again(cause, state))
            return;
        Report(
            cause,
            state,
            fault.Cause.Split(" and ") is [var one, var other]
                ? Said.Kept(
                    $"{one} and {other} in one block: only one of them can be meant, and controls differ in which they take."
                )
                : Said.Kept(
                    $"{fault.Cause} in one block: only one of them can be meant, and controls differ in which they take."
                ),
            "Leave the one that is meant, or write two blocks."
        );
    }
}
