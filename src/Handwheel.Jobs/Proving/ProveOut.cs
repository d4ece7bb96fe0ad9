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

/// <summary>A register that was raised for the air cut and no longer is, before it was over.</summary>
/// <param name="Why">In words, with the register's name.</param>
public sealed record RaiseLost(string Why, LedgerReading LastRead);

/// <summary>
/// A prove-out: the fold of its entries over its plan, beside the machine's ledger. It does not change;
/// <see cref="Apply"/> gives the next one.
/// </summary>
public sealed class ProveOut
{
    static readonly TimeSpan TwoPeopleOneTablet = TimeSpan.FromSeconds(5);

    static readonly Phase[] Order =
    [
        Phase.Ready,
        Phase.AirCut,
        Phase.Restore,
        Phase.FirstCut,
        Phase.FirstPiece,
        Phase.Release,
    ];

    readonly Course course;

    /// <summary>Of one that has ended: with what was read since. Null: what the course holds.</summary>
    readonly Ledger? since;
    readonly Lazy<IReadOnlyList<StepView>> steps;

    ProveOut(Course course, IReadOnlyList<Entry> entries, IReadOnlyList<Unexplained> unexplained, Ledger? since)
    {
        this.course = course;
        this.since = since;
        Entries = entries;
        Unexplained = unexplained;
        steps = new(() => Views.Of(course));
    }

    /// <summary>
    /// From the stored entries. <paramref name="ledger"/>: all readings of the machine; those of this prove-out are taken
    /// from its entries, so it makes no difference whether they are in it.
    /// </summary>
    public static ProveOut Replay(ProveOutPlan plan, IReadOnlyList<Entry> entries, Ledger ledger)
    {
        var replayed = new Course(plan);
        var unexplained = new List<Unexplained>();
        var outside = new Queue<LedgerReading>(ledger.Readings.Where(r => r.ProveOut != plan.Subject.ProveOut));
        foreach (var entry in entries)
        {
            while (outside.TryPeek(out var reading) && reading.At <= entry.At)
                FromOutside(replayed, outside.Dequeue());
            var reasons = WhyNot(replayed, entry);
            if (reasons.Count > 0)
                unexplained.Add(new(entry.Number, reasons));
            else
                Effects.Take(replayed, entry);
            replayed.LastEntry = entry;
        }
        // What is read after its end is the machine's, not the prove-out's: its record stays what was signed.
        if (replayed.HasEnded)
            return new(
                replayed,
                entries,
                unexplained,
                outside.Aggregate(replayed.Ledger, (l, reading) => l.With(reading))
            );
        foreach (var reading in outside)
            FromOutside(replayed, reading);
        return new(replayed, entries, unexplained, since: null);
    }

    /// <summary>The plan now in force.</summary>
    public ProveOutPlan Plan => course.Plan;
    public IReadOnlyList<Entry> Entries { get; }
    public Standing Standing => course.Standing;
    public bool HasEnded => course.HasEnded;

    /// <summary>The first phase that is not all done; release when all are.</summary>
    public Phase Phase => Order.FirstOrDefault(p => course.Table.Of(p).Any(r => !course.IsDone(r.Id)), Phase.Release);

    /// <summary>Read-back and put-back first, then all phases in their order, parking last.</summary>
    public IReadOnlyList<StepView> Steps => steps.Value;
    public Handoff? Handoff => course.Handoff;

    /// <summary>What is locked out or bypassed, as a handoff said; null: nothing that anybody wrote. It outlives the end.</summary>
    public LockedOut? LockedOut => course.LockedOut;

    /// <summary>What whoever takes the machine over now reads back.</summary>
    public IReadOnlyList<Register> ToReadBack => [.. Handing.ToReadBack(course)];

    /// <summary>The raise in force, as text with unit; null: none.</summary>
    public string? Raise => course.Raise is { } raise ? course.Text(raise) : null;

    /// <summary>Registers that were read raised and then at their baseline while the air cut is not over: what runs next runs at true height.</summary>
    public IReadOnlyList<RaiseLost> RaisesLost =>
        course.HasEnded || course.IsDone("air-cut.ran")
            ? []
            :
            [
                .. from register in course.Table.RaisedRegisters
                where course.RaisedReadAt.ContainsKey(register)
                let last = course.Ledger.Last(register)
                where last is not null && last.Value == Expected.Baseline(course, register)
                select new RaiseLost(ReadingEffects.RaiseIsLost(register), last),
            ];

    /// <summary>
    /// The program that a file saved from the control is compared with at a step: the step's own, or where every program of the job may
    /// be saved, the one that it is, else the main program.
    /// </summary>
    public ProgramInControl ComparedWith(string step, string comparableSha256) =>
        course.Find(step)?.Program
        ?? Plan.Subject.Programs.FirstOrDefault(p => p.ComparableSha256 == comparableSha256)
        ?? Plan.Subject.Programs[0];

    /// <summary>Edits noted at the machine, oldest first.</summary>
    public IReadOnlyList<EditNoted> Edits => course.Edits;

    /// <summary>Measurements of the first piece and corrections, oldest first.</summary>
    public IReadOnlyList<FirstPieceNote> FirstPiece => course.FirstPiece;

    /// <summary>Every value typed into a step that knows what it should be, oldest first: not to be shown before <see cref="MayBeReviewed"/>.</summary>
    public IReadOnlyList<TypedTry> Tries => course.Tries;

    /// <summary>Corrections after a first piece, oldest first.</summary>
    public IReadOnlyList<CorrectionMade> Corrections => course.Corrections;

    /// <summary>True while all that is left is the release and no reading is open that would be typed blind: what was typed may be reviewed.</summary>
    public bool MayBeReviewed =>
        Standing is Standing.UnderWay
        && Phase is Phase.Release
        && Steps.All(s => !s.Blind || s.State is StepState.Done or StepState.Deviation);

    /// <summary>The machine's ledger with the readings of this prove-out; of one that has ended too as it is now.</summary>
    public Ledger Ledger => since ?? course.Ledger;

    /// <summary>Number of the last entry; 0: none.</summary>
    public long Last => course.LastEntry?.Number ?? 0;
    public IReadOnlyList<Unexplained> Unexplained { get; }

    /// <summary>Readings for the ledger that the last entry brought.</summary>
    public IReadOnlyList<LedgerReading> NewReadings =>
        [.. Ledger.Readings.Where(r => r.ProveOut == Plan.Subject.ProveOut && r.Entry == Last && Last > 0)];

    /// <summary>Why <paramref name="by"/> cannot do <paramref name="act"/> now; empty: it can be done.</summary>
    public IReadOnlyList<string> WhyNot(Act act, Actor by) => Refusals.For(course, act, by);

    /// <summary>The same for an entry about to be stored: also what somebody else did meanwhile, and too quick a second person.</summary>
    public IReadOnlyList<string> WhyNot(Entry entry) => WhyNot(course, entry);

    /// <summary>Who changed the step (or, for a signature, the prove-out) since entry <paramref name="basedOn"/>, and when; null: nobody.</summary>
    public string? ChangedSince(Act act, long basedOn) => ChangedSince(course, act, basedOn);

    /// <summary>The prove-out after <paramref name="entry"/>.</summary>
    /// <exception cref="InvalidOperationException">The entry is refused: ask <see cref="WhyNot(Entry)"/> first.</exception>
    public ProveOut Apply(Entry entry)
    {
        var reasons = WhyNot(entry);
        if (reasons.Count > 0)
            throw new InvalidOperationException(string.Join(" ", reasons));
        var next = course.Copy();
        Effects.Take(next, entry);
        return new(next, [.. Entries, entry], Unexplained, since);
    }

    static List<string> WhyNot(Course course, Entry entry)
    {
        var last = course.LastEntry?.Number ?? 0;
        var reasons = new List<string>();
        if (entry.Number != last + 1)
            reasons.Add(Said.In($"Entry {last + 1} comes next, not {entry.Number}."));
        if (entry.BasedOn < 0 || entry.BasedOn > last)
            reasons.Add(Said.In($"Entry {entry.BasedOn} is not in this prove-out: load the page again."));
        if (ChangedSince(course, entry.Act, entry.BasedOn) is { } changed)
            reasons.Add(changed);
        if (NotKnownOnTablet(course, entry) is { } unknown)
            reasons.Add(unknown);
        if (TooQuick(course, entry) is { } quick)
            reasons.Add(quick);
        reasons.AddRange(Refusals.For(course, entry.Act, entry.By));
        return reasons;
    }

    static string? ChangedSince(Course course, Act act, long basedOn)
    {
        if (act.NeedsPin && course.LastChange is { } change && change.Number > basedOn)
            return Said.In($"{change.By.Name} did something else at {course.Clock(change.At)}: look at it, then sign.");
        if (act is StepAct step && course[step.Step].Changed is { } doer && doer.Entry > basedOn)
            return Said.In($"{doer.Name} was here at {course.Clock(doer.At)}: look at the step again.");
        return null;
    }

    /// <summary>
    /// Looked at before an interruption, a handoff or a change, and sent after it: whoever did it could not know, and nobody has looked since.
    /// </summary>
    static string? NotKnownOnTablet(Course course, Entry entry) =>
        entry is { Kept: not null, Act: StepAct } && course.LastUpset is { } upset && upset.Number > entry.BasedOn
            ? Said.In(
                $"This waited on a tablet without connection, and meanwhile, at {course.Clock(upset.DoneAt)}, {upset.By.Name} recorded an interruption, a handoff or a change: look at the machine and do the step again."
            )
            : null;

    /// <summary>Two people on one tablet cannot both have looked within seconds.</summary>
    static string? TooQuick(Course course, Entry entry) =>
        entry.Act is Signed { As: SignedAs.Witnessed } or TookOver
        && course.LastEntry is { } last
        && last.By.Person != entry.By.Person
        && last.Tablet == entry.Tablet
        && entry.At - last.At < TwoPeopleOneTablet
            ? Said.In($"{last.By.Name} was on this tablet a moment ago: look for yourself, then sign.")
            : null;

    static void FromOutside(Course course, LedgerReading reading)
    {
        var by = new Doer(reading.By.Name, reading.At, "", course.LastEntry?.Number ?? 0);
        ReadingEffects.Ledger(course, reading, null, by);
        ReadingEffects.AskForRaiseAgain(course, by);
    }
}
