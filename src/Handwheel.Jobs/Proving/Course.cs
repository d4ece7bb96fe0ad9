using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>The state of a prove-out while entries are taken in. Copied before each change.</summary>
sealed class Course
{
    readonly Dictionary<string, StepRecord> steps;

    public Course(ProveOutPlan newest)
    {
        steps = [];
        Baselines = [];
        ShouldBe = [];
        BaselineReadAt = [];
        RaisedReadAt = [];
        ReadBack = [];
        Doers = [];
        Edits = [];
        FirstPiece = [];
        Tries = [];
        Corrections = [];
        var plans = new List<ProveOutPlan>();
        for (var plan = newest; plan is not null; plan = plan.Previous)
            plans.Insert(0, plan);
        Plans = plans;
        Table = StepTable.For(plans[0], airCutWanted: false);
        Raise = plans[0].AirCut.Suggested;
    }

    Course(Course other)
    {
        steps = new(other.steps);
        Plans = other.Plans;
        PlanIndex = other.PlanIndex;
        Table = other.Table;
        AirCutWanted = other.AirCutWanted;
        Raise = other.Raise;
        RaiseChosen = other.RaiseChosen;
        Ledger = other.Ledger;
        Baselines = new(other.Baselines);
        ShouldBe = new(other.ShouldBe);
        BaselineReadAt = new(other.BaselineReadAt);
        RaisedReadAt = new(other.RaisedReadAt);
        ReadBack = new(other.ReadBack);
        InterruptionOpen = other.InterruptionOpen;
        Standing = other.Standing;
        Handoff = other.Handoff;
        LockedOut = other.LockedOut;
        Doers = [.. other.Doers];
        Edits = [.. other.Edits];
        FirstPiece = [.. other.FirstPiece];
        Tries = [.. other.Tries];
        Corrections = [.. other.Corrections];
        LastEntry = other.LastEntry;
        LastChange = other.LastChange;
        LastUpset = other.LastUpset;
    }

    public Course Copy() => new(this);

    /// <summary>Oldest first; <see cref="PlanIndex"/> is the one in force.</summary>
    public IReadOnlyList<ProveOutPlan> Plans { get; private set; }
    public int PlanIndex { get; set; }
    public ProveOutPlan Plan => Plans[PlanIndex];
    public StepTable Table { get; set; }
    public bool AirCutWanted { get; set; }
    public Length? Raise { get; set; }
    public bool RaiseChosen { get; set; }
    public Ledger Ledger { get; set; } = Ledger.Empty;

    /// <summary>What each register holds when nothing is raised, as read and accepted in this prove-out.</summary>
    public Dictionary<Register, Length> Baselines { get; }

    /// <summary>What each register should hold now: the last accepted reading.</summary>
    public Dictionary<Register, Length> ShouldBe { get; }
    public Dictionary<Register, long> BaselineReadAt { get; }
    public Dictionary<Register, long> RaisedReadAt { get; }

    /// <summary>Steps asked for by a handoff or an interruption, by id; done ones stay until all are.</summary>
    public Dictionary<string, StepRule> ReadBack { get; }
    public bool InterruptionOpen { get; set; }
    public Standing Standing { get; set; }
    public bool HasEnded => Standing is Standing.Released or Standing.Abandoned;
    public Handoff? Handoff { get; set; }

    /// <summary>What is locked out or bypassed, until somebody signs that it is so no longer.</summary>
    public LockedOut? LockedOut { get; set; }

    /// <summary>People who did a step.</summary>
    public HashSet<Guid> Doers { get; }
    public List<EditNoted> Edits { get; }

    /// <summary>Measurements and corrections, oldest first.</summary>
    public List<FirstPieceNote> FirstPiece { get; }
    public List<TypedTry> Tries { get; }
    public List<CorrectionMade> Corrections { get; }
    public Entry? LastEntry { get; set; }

    /// <summary>The last entry that was more than a note or a photo; of one that has ended, the one that ended it.</summary>
    public Entry? LastChange { get; set; }

    /// <summary>The last interruption, handoff or change: what a tablet recorded without knowing of it does not count.</summary>
    public Entry? LastUpset { get; set; }

    public Units Units => Plan.Units;

    public StepRecord this[string id]
    {
        get => steps.GetValueOrDefault(id, StepRecord.Untouched);
        set => steps[id] = value;
    }

    public bool IsDone(string id)
    {
        var rule = Table.Find(id);
        if (rule is null)
            return true;
        return rule.Takes == Takes.Nothing ? rule.After.All(IsDone) : this[id].IsDone;
    }

    public bool IsDoneOrRead(StepRule rule) => Table.Find(rule.Id) is null ? this[rule.Id].IsRead : IsDone(rule.Id);

    public StepRule? Find(string id) =>
        Table.Find(id) ?? ReadBack.GetValueOrDefault(id) ?? PutBack.FirstOrDefault(r => r.Id == id);

    /// <summary>A step for each register that is off the baseline it was read with.</summary>
    public IEnumerable<StepRule> PutBack =>
        Ledger
            .Hazards.Where(h => h.Raised || Baselines.ContainsKey(h.Register))
            .Select(h => AnyTimeSteps.PutBack(h.Register));

    public bool ReadBackOpen => ReadBack.Count > 0;

    /// <summary>Drops the steps that a later plan does not have.</summary>
    public void Keep(Func<string, bool> kept)
    {
        foreach (var id in steps.Keys.Where(id => !kept(id)).ToList())
            steps.Remove(id);
    }

    public void Forget(IEnumerable<string> ids)
    {
        foreach (var id in ids)
            steps.Remove(id);
    }

    /// <summary>The time on the shop's clock: <c>14:12</c>.</summary>
    public string Clock(DateTimeOffset at) => SaidDate.Time(There(at));

    /// <summary>With its day, for what can be older than this prove-out: <c>24 Nov 2026 14:12</c>.</summary>
    public string Day(DateTimeOffset at) => SaidDate.Full(There(at));

    DateTime There(DateTimeOffset at)
    {
        var zone =
            LastEntry is { } entry && TimeZoneInfo.TryFindSystemTimeZoneById(entry.Zone, out var found)
                ? found
                : TimeZoneInfo.Utc;
        return TimeZoneInfo.ConvertTime(at, zone).DateTime;
    }

    public string Text(Length value) => $"{value.ToRegisterText(Units)} {Units.Symbol()}";
}
