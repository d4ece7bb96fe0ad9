using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class CannotFollowRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("cannot-follow", Level.Stop, "Something that cannot be followed");

    public override void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind != FaultKind.CannotFollow)
            return;
        Facts.Window.Undo(
            state.BlocksExecuted,
            fault.Cause is ['#', ..]
                ? $"{fault.Cause} at line {Figures.Whole(state.Line)} has no value, so what follows is not proven"
                : $"{Named(fault.Cause)} at line {Figures.Whole(state.Line)} could not be followed, so what follows is not proven"
        );
        var cause = Book.Cause(fault.Cause);
        if (Again(cause, state))
            return;
        if (fault.Cause is ['#', ..])
        {
            Report(
                cause,
                state,
                $"{fault.Cause} has no value here: nothing in the program or the setup gives it. Everything after this line is not proven.",
                $"Read it at the control and give it to the check (--set '{fault.Cause}=…'), or have the program set it before it is used."
            );
            return;
        }
        var expected = fault.Expected is { } word ? $" Expected: {word}." : "";
        Report(
            cause,
            state,
            $"{(Missing(fault.Cause) ? fault.Cause : fault.Cause + " cannot be followed")}.{expected} Everything after this line is not proven.",
            "Write it another way, give the subprogram, or, when the code moves nothing and changes nothing that matters, name it under machine.harmless in the setup."
        );
    }

    /// <summary>The cause is a whole sentence already: <c>subprogram 1234 is not there</c>.</summary>
    static bool Missing(string cause) => cause.EndsWith(NotThere, StringComparison.Ordinal);

    static string Named(string cause) => Missing(cause) ? cause[..^NotThere.Length] : cause;

    const string NotThere = " is not there";
}
