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
}

/// <summary>What a register should have shown when it was read.</summary>
/// <param name="Baseline">Its value when nothing is raised; null: nobody has said.</param>
/// <param name="Asked">What the step asked for: the baseline, or the baseline with the raise; null: nothing was asked for.</param>
/// <param name="Statement">A supervisor signed that the register was rewritten for another job.</param>
public sealed record Expectation(Length? Baseline, Length? Asked, bool Statement = false);

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
/// <param name="Difference">Value less baseline.</param>
/// <param name="Raised">True: it was raised on purpose and not yet put back.</param>
/// <param name="Since">When it was first read off its baseline.</param>
/// <param name="LastRead">The latest reading: who and when.</param>
public sealed record Hazard(
    Register Register,
    Length Difference,
    bool Raised,
    DateTimeOffset Since,
    LedgerReading LastRead
)
{
    /// <summary>For board and banner, without the register's own value: <c>G55 Z still raised 3.0000 in</c>.</summary>
    public string Text =>
        $"{Register} {(Raised ? "still raised" : "is off by")} {Difference.ToRegisterText(LastRead.Units)} {LastRead.Units.Symbol()}";
}

/// <summary>
/// What the registers of one machine were when a person last read them: the fold of all its readings, in and outside
/// prove-outs. It outlives jobs; nothing clears a hazard but a reading.
/// </summary>
public sealed class Ledger
{
    readonly ImmutableDictionary<Register, LedgerReading> last;
    readonly ImmutableDictionary<Register, DateTimeOffset> offSince;
    readonly ImmutableList<LedgerReading> readings;

    Ledger(
        ImmutableList<LedgerReading> readings,
        ImmutableDictionary<Register, LedgerReading> last,
        ImmutableDictionary<Register, DateTimeOffset> offSince
    ) => (this.readings, this.last, this.offSince) = (readings, last, offSince);

    /// <summary>Every reading, oldest first.</summary>
    public IReadOnlyList<LedgerReading> Readings => readings;

    public static Ledger Empty { get; } =
        new(
            [],
            ImmutableDictionary<Register, LedgerReading>.Empty,
            ImmutableDictionary<Register, DateTimeOffset>.Empty
        );

    /// <summary>Readings of one machine in the order in which the server took them in.</summary>
    public static Ledger Fold(IReadOnlyList<LedgerReading> readings) =>
        readings.Aggregate(Empty, (ledger, reading) => ledger.With(reading));

    public LedgerReading? Last(Register register) => last.GetValueOrDefault(register);

    public Ledger With(LedgerReading reading)
    {
        var register = new Register(reading.Register, reading.Axis);
        var off = reading.Expectation.Baseline is { } baseline && baseline != reading.Value;
        var since = offSince.TryGetValue(register, out var first) ? first : reading.At;
        return new(
            readings.Add(reading),
            last.SetItem(register, reading),
            off ? offSince.SetItem(register, since) : offSince.Remove(register)
        );
    }

    /// <summary>Registers that are not as they should be, raised ones first, then the largest difference.</summary>
    public IReadOnlyList<Hazard> Hazards =>
        [
            .. offSince
                .Select(off => HazardOf(last[off.Key], off.Value))
                .OrderByDescending(h => h.Raised)
                .ThenByDescending(h => Length.Abs(h.Difference))
                .ThenBy(h => h.Register.ToString(), StringComparer.Ordinal),
        ];

    public Hazard? HazardOf(Register register) =>
        offSince.TryGetValue(register, out var since) ? HazardOf(last[register], since) : null;

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
            reasons.Add("That a register was rewritten for another job is signed by a supervisor.");
        if (!by.Has(Roles.Operator | Roles.Setter | Roles.Supervisor))
            reasons.Add("Registers are read by an operator, a setter or a supervisor.");
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

    static Hazard HazardOf(LedgerReading reading, DateTimeOffset since) =>
        new(
            new(reading.Register, reading.Axis),
            reading.Value - reading.Expectation.Baseline!.Value,
            reading.Expectation.Asked == reading.Value,
            since,
            reading
        );
}
