namespace Handwheel.Jobs.Proving;

/// <summary>An entry in a stored prove-out that the rules do not allow: kept, without effect on the checklist.</summary>
public sealed record Unexplained(long Entry, IReadOnlyList<string> Reasons);

/// <summary>How a prove-out stands.</summary>
public enum Standing
{
    NotBegun,
    UnderWay,
    HandoffOpen,
    Released,
    Abandoned,
}

/// <summary>
/// A prove-out: the fold of its entries over its plan, beside the machine's ledger. It does not change;
/// <see cref="Apply"/> gives the next one.
/// </summary>
public sealed partial class ProveOut
{
    /// <summary>
    /// From the stored entries. <paramref name="ledger"/>: all readings of the machine, those of this prove-out included.
    /// </summary>
    public static ProveOut Replay(ProveOutPlan plan, IReadOnlyList<Entry> entries, Ledger ledger) =>
        throw new NotSupportedException();

    /// <summary>The plan now in force.</summary>
    public ProveOutPlan Plan => throw new NotSupportedException();
    public Phase Phase => throw new NotSupportedException();
    public Standing Standing => throw new NotSupportedException();
    public IReadOnlyList<StepView> Steps => throw new NotSupportedException();
    public Handoff? Handoff => throw new NotSupportedException();

    /// <summary>The ledger with the readings of this prove-out.</summary>
    public Ledger Ledger => throw new NotSupportedException();

    /// <summary>Number of the last entry; 0: none.</summary>
    public long Last => throw new NotSupportedException();
    public IReadOnlyList<Unexplained> Unexplained => throw new NotSupportedException();

    /// <summary>Readings for the ledger that the last applied entry brought.</summary>
    public IReadOnlyList<LedgerReading> NewReadings => throw new NotSupportedException();

    /// <summary>Why <paramref name="by"/> cannot do <paramref name="act"/> now; empty: it can be done.</summary>
    public IReadOnlyList<string> WhyNot(Act act, Actor by) => throw new NotSupportedException();

    /// <summary>The same for an entry about to be stored: also what somebody else did meanwhile, and too quick a second person.</summary>
    public IReadOnlyList<string> WhyNot(Entry entry) => throw new NotSupportedException();

    /// <summary>Who changed the step (or the prove-out) since the page was shown, and when; null: nobody.</summary>
    public string? ChangedSince(Act act, long basedOn) => throw new NotSupportedException();

    /// <summary>The prove-out after <paramref name="entry"/>.</summary>
    /// <exception cref="InvalidOperationException">The entry is refused: ask <see cref="WhyNot(Entry)"/> first.</exception>
    public ProveOut Apply(Entry entry) => throw new NotSupportedException();
}
