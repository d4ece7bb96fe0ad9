using System.Collections.Immutable;
using Handwheel.Jobs.Readings;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// A value in the control: <c>G55</c> and <c>z</c>; <c>common</c> and <c>x</c>; <c>shift</c> and <c>y</c> (G52, G92);
/// <c>H4</c> and <c>length</c> or <c>wear</c>; <c>D4</c> and <c>diameter</c> or <c>wear</c>.
/// </summary>
public readonly record struct Register(string Name, string Axis)
{
    /// <summary>For people: <c>G55 Z</c>, <c>H4 length</c>.</summary>
    public override string ToString() => Name + " " + (Axis.Length == 1 ? Axis.ToUpperInvariant() : Axis);

    /// <summary>The same in the language of the tablet: what the control calls it stays as it is.</summary>
    public string Words => NameWords(Name) + " " + AxisWord;

    public static string NameWords(string name) =>
        name switch
        {
            "common" => Said.In("common"),
            "shift" => Said.In("shift"),
            _ => name,
        };

    string AxisWord =>
        Axis switch
        {
            "length" => Said.In("length"),
            "wear" => Said.In("wear"),
            "diameter" => Said.In("diameter"),
            _ => Axis.ToUpperInvariant(),
        };
}

/// <summary>What a register should have shown when it was read.</summary>
/// <param name="Baseline">Its value when nothing is raised; null: nobody has said.</param>
/// <param name="Asked">
/// What the step asked for: the baseline, or the baseline with the raise. Null with a baseline: the first reading was not
/// what the step asked for, and the register is being read again. Null without: nothing was asked for.
/// </param>
/// <param name="Statement">A supervisor signed that the register was rewritten for another job.</param>
public sealed record Expectation(Length? Baseline, Length? Asked, bool Statement = false)
{
    /// <summary>
    /// Typed once, not right, and to be typed a second time before anything is said of it: a hazard with its amount would
    /// tell what is still to be read blind.
    /// </summary>
    public bool IsReadAgain => Baseline is not null && Asked is null;
}

/// <summary>A person read a register of a machine.</summary>
/// <param name="Typed">Exactly as typed.</param>
/// <param name="ProveOut">The prove-out it was read in; null: outside.</param>
/// <param name="Entry">The entry of that prove-out.</param>
public sealed record LedgerReading(
    Guid Machine,
    string Register,
    string Axis,
    Length Value,
    string Typed,
    Units Units,
    Actor By,
    DateTimeOffset At,
    Guid? ProveOut,
    long? Entry,
    Expectation Expectation
);

/// <summary>
/// A register that is not as it should be, until somebody reads it and it is right.
/// </summary>
/// <param name="Difference">Value less baseline; null: read once only, and not told before it was read again.</param>
/// <param name="Raised">True: it was raised on purpose and has not been read at its baseline since, whatever it was read as.</param>
/// <param name="Since">When it was first read off its baseline.</param>
/// <param name="LastRead">The reading that it rests on: who and when.</param>
public sealed record Hazard(
    Register Register,
    Length? Difference,
    bool Raised,
    DateTimeOffset Since,
    LedgerReading LastRead
)
{
    bool AsAsked => LastRead.Expectation.Asked == LastRead.Value;

    /// <summary>For board and banner, without the register's own value: <c>G55 Z still raised 3.0000 in</c>.</summary>
    public string Text => Lowers ? Said.In($"{Words}: the tool goes that much lower") : Words;

    /// <summary>A smaller Z in a work offset, or in the one common to all, brings every tip lower than it should be.</summary>
    bool Lowers => Difference is { } by && by < Length.Zero && Register is { Axis: "z", Name: not "shift" };

    string Words =>
        Difference is { } by
            ? (Raised, AsAsked) switch
            {
                (true, true) => Said.In(
                    $"{Register} still raised {by.ToRegisterText(LastRead.Units)} {LastRead.Units.Symbol()}"
                ),
                (true, false) => Said.In(
                    $"{Register} was raised, was not put back and is off by {by.ToRegisterText(LastRead.Units)} {LastRead.Units.Symbol()}"
                ),
                _ => Said.In($"{Register} is off by {by.ToRegisterText(LastRead.Units)} {LastRead.Units.Symbol()}"),
            }
            : Said.In($"{Register} was read and is not as it should be: it is to be read again");
}

/// <summary>
/// What the registers of one machine were when a person last read them: the fold of all its readings, in and outside
/// prove-outs. It outlives jobs; nothing clears a hazard but a reading.
/// </summary>
public sealed class Ledger
{
    readonly ImmutableDictionary<Register, LedgerReading> last;
    readonly ImmutableDictionary<Register, Off> off;
    readonly ImmutableList<LedgerReading> readings;

    /// <summary>A register off its baseline: since when, by which reading, and whether it was ever raised since.</summary>
    sealed record Off(DateTimeOffset Since, LedgerReading Reading, bool Raised);

    Ledger(
        ImmutableList<LedgerReading> readings,
        ImmutableDictionary<Register, LedgerReading> last,
        ImmutableDictionary<Register, Off> off
    ) => (this.readings, this.last, this.off) = (readings, last, off);

    /// <summary>Every reading, oldest first.</summary>
    public IReadOnlyList<LedgerReading> Readings => readings;

    public static Ledger Empty { get; } =
        new([], ImmutableDictionary<Register, LedgerReading>.Empty, ImmutableDictionary<Register, Off>.Empty);

    /// <summary>Readings of one machine in the order in which the server took them in.</summary>
    public static Ledger Fold(IReadOnlyList<LedgerReading> readings) =>
        readings.Aggregate(Empty, (ledger, reading) => ledger.With(reading));

    public LedgerReading? Last(Register register) => last.GetValueOrDefault(register);

    /// <summary>
    /// A reading that is to be made again neither clears a hazard nor replaces it: that stands, with the amount last read
    /// twice or rightly, until the second reading. Where there was none, one without an amount stands in its place, so
    /// that the register counts as not right from the first wrong reading on.
    /// </summary>
    public Ledger With(LedgerReading reading)
    {
        var register = new Register(reading.Register, reading.Axis);
        var isOff = reading.Expectation.Baseline is { } baseline && baseline != reading.Value;
        var before = off.GetValueOrDefault(register);
        var raised = before is { Raised: true } || reading.Expectation.Asked == reading.Value;
        var now =
            reading.Expectation.IsReadAgain && before is not null ? off
            : isOff ? off.SetItem(register, new(before?.Since ?? reading.At, reading, raised))
            : off.Remove(register);
        return new(readings.Add(reading), last.SetItem(register, reading), now);
    }

    /// <summary>Registers that are not as they should be, raised ones first, then the largest difference.</summary>
    public IReadOnlyList<Hazard> Hazards =>
        [
            .. off
                .Values.Select(HazardOf)
                .OrderByDescending(h => h.Raised)
                .ThenByDescending(h => Length.Abs(h.Difference ?? Length.Zero))
                .ThenBy(h => h.Register.ToString(), StringComparer.Ordinal),
        ];

    public Hazard? HazardOf(Register register) => off.TryGetValue(register, out var found) ? HazardOf(found) : null;

    /// <summary>
    /// Why a reading outside prove-outs is refused; empty: it is taken. A statement (the register was rewritten for another
    /// job) is a supervisor's.
    /// </summary>
    public static IReadOnlyList<string> WhyNotOutside(
        string typed,
        Units units,
        Length leastIncrement,
        Actor by,
        bool statement
    )
    {
        var reasons = new List<string>();
        if (statement && !by.Has(Roles.Supervisor))
            reasons.Add(Said.In("That a register was rewritten for another job is signed by a supervisor."));
        if (!by.Has(Roles.Operator | Roles.Setter | Roles.Supervisor))
            reasons.Add(Said.In("Registers are read by an operator, a setter or a supervisor."));
        if (!TypedNumber.TryReadLength(typed, units, leastIncrement, out _, out var refusal))
            reasons.Add(refusal);
        return reasons;
    }

    /// <summary>
    /// A reading outside prove-outs: right when it is the baseline that the register last had. With
    /// <paramref name="statement"/> a supervisor says that the value read is what the register should now hold.
    /// </summary>
    public LedgerReading Outside(
        Guid machine,
        Register register,
        Length value,
        string typed,
        Units units,
        Actor by,
        DateTimeOffset at,
        bool statement = false
    )
    {
        var baseline = statement ? value : Last(register)?.Expectation.Baseline;
        return new(
            machine,
            register.Name,
            register.Axis,
            value,
            typed,
            units,
            by,
            at,
            null,
            null,
            new(baseline, baseline, statement)
        );
    }

    static Hazard HazardOf(Off off) =>
        new(
            new(off.Reading.Register, off.Reading.Axis),
            off.Reading.Expectation.IsReadAgain ? null : off.Reading.Value - off.Reading.Expectation.Baseline!.Value,
            off.Raised,
            off.Since,
            off.Reading
        );
}
