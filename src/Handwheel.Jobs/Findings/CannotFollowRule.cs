using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class CannotFollowRule(Facts facts) : Rule(facts)
{
    /// <summary>From #1000 on parameters belong to the control.</summary>
    const int FirstOfTheControl = 1000;
    const int AskedMost = 50;

    public override RuleInfo Info { get; } = new("cannot-follow", Level.Stop, "Something that cannot be followed");

    public override void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind != FaultKind.CannotFollow)
            return;
        Facts.Window.Undo(
            state.BlocksExecuted,
            fault.Cause is ['#', ..]
                ? Said.Kept(
                    $"{fault.Cause} at line {Figures.Whole(state.Line)} has no value, so what follows is not proven"
                )
                : Said.Kept(
                    $"{Named(fault.Cause)} at line {Figures.Whole(state.Line)} could not be followed, so what follows is not proven"
                )
        );
        var cause = Book.Cause(fault.Cause);
        if (Again(cause, state))
            return;
        if (fault.Cause is ['#', ..])
        {
            Ask(fault.Cause, state);
            Report(
                cause,
                state,
                Said.Kept(
                    $"{fault.Cause} has no value here: nothing in the program or the setup gives it. Everything after this line is not proven."
                ),
                $"Read it at the control and give it to the check (--set '{fault.Cause}=…'), or have the program set it before it is used."
            );
            return;
        }
        var expected = fault.Expected is { } word ? Said.Kept($" Expected: {word}.") : "";
        Report(
            cause,
            state,
            Missing(fault.Cause)
                ? Said.Kept($"{Named(fault.Cause)} is not there.{expected} Everything after this line is not proven.")
                : Said.Kept($"{fault.Cause} cannot be followed.{expected} Everything after this line is not proven."),
            "Write it another way, give the subprogram, or, when the code moves nothing and changes nothing that matters, name it under machine.harmless in the setup."
        );
    }

    /// <summary>Only what stays as it is can be asked for: not a position, a timer or a register that the program itself moves.</summary>
    void Ask(string parameter, in ControlState state)
    {
        var numbered = int.TryParse(
            parameter.AsSpan(1),
            NumberStyles.None,
            CultureInfo.InvariantCulture,
            out var number
        );
        if (!numbered || number is < 1 or >= FirstOfTheControl || Facts.AsksFor.Count >= AskedMost)
            return;
        var at = Where.Of(state);
        Facts.AsksFor.Add(new(number, at.Line, Facts.Texts.FileName(at), Facts.Texts.Block(at)));
    }

    /// <summary>The cause is a whole sentence already: <c>subprogram 1234 is not there</c>.</summary>
    static bool Missing(string cause) => cause.EndsWith(NotThere, StringComparison.Ordinal);

    static string Named(string cause) => Missing(cause) ? cause[..^NotThere.Length] : cause;

    const string NotThere = " is not there";
}
