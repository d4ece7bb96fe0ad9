using Handwheel.Jobs.Proving;
using Handwheel.Nc;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>One tool, one fixture, three people: every state that a few moves lead to, breadth first, with the rules as they are or with a fault planted in them.</summary>
sealed class SmallModel
{
    /// <summary>A move: the steps it is about, what is typed for Z, and who does it; or one act.</summary>
    public sealed record Move(string Name, Func<Course, IEnumerable<(Act Act, Actor By)>> Acts);

    sealed record State(Course Course, Truth Truth, IReadOnlyList<Move> Path);

    public static readonly IReadOnlyList<Move> Moves =
    [
        Steps(
            "ready",
            id =>
                id.StartsWith("ready.", StringComparison.Ordinal) && id is not ("ready.offset.G55.z" or "ready.signed"),
            Setter
        ),
        Typed("baseline read", "ready.offset.G55.z", "-18.1250"),
        Typed("baseline read with the raise in it", "ready.offset.G55.z", "-15.1250"),
        Steps("ready signed", id => id == "ready.signed", Setter),
        Typed("raised", "air-cut.raised.G55.z", "-15.1250"),
        Typed("raised the wrong way", "air-cut.raised.G55.z", "-21.1250"),
        Steps(
            "air cut",
            id => id.StartsWith("air-cut.tool", StringComparison.Ordinal) || id is "air-cut.ran" or "air-cut.signed",
            Setter
        ),
        Steps(
            "restore but for Z",
            id =>
                id.StartsWith("restore.", StringComparison.Ordinal)
                && id is not ("restore.offset.G55.z" or "restore.signed"),
            Setter
        ),
        Typed("restored", "restore.offset.G55.z", "-18.1250"),
        Typed("still raised", "restore.offset.G55.z", "-15.1250"),
        Steps(
            "restore rest signed",
            id => id.StartsWith("restore.", StringComparison.Ordinal) && id != "restore.offset.G55.z",
            Setter
        ),
        Steps("first cut", id => id.StartsWith("first-cut.", StringComparison.Ordinal), Setter),
        Steps(
            "first piece",
            id => id.StartsWith("first-piece.", StringComparison.Ordinal) || id == "release.edits",
            Setter
        ),
        Steps("release", id => id == "release.signed", Supervisor),
        Steps("release by the setter", id => id == "release.signed", Setter),
        Typed("put back", "put-back.G55.z", "-18.1250"),
        One("length changed", new LengthChanged(1, "measured again"), Setter),
        One("tool replaced", new ToolReplaced(1, "broke"), Setter),
        One("work offset set anew", new BaselineChanged("G55", "z", "touched off"), Setter),
        One("handed over", new HandedOver(Words()), Setter),
        Steps("read back", id => id.StartsWith("read-back.", StringComparison.Ordinal), NightSetter),
        Typed("read back as the baseline", "read-back.G55.z", "-18.1250", NightSetter),
        One("took over", new TookOver(), NightSetter),
        One("took over by who handed over", new TookOver(), Setter),
        new("deviation", c => First(c).Select(id => ((Act)new DeviationSigned(id, "signed for"), Supervisor))),
        new(
            "deviation by the setter",
            c => First(c).Select(id => ((Act)new DeviationSigned(id, "signed for"), Setter))
        ),
    ];

    static readonly string[] WayThrough =
    [
        "ready",
        "baseline read",
        "ready signed",
        "raised",
        "air cut",
        "restore but for Z",
        "restored",
        "restore rest signed",
        "first cut",
        "first piece",
        "release",
        "put back",
    ];

    /// <summary>
    /// The moves in parts, each with the right way through and one kind of what can come between: together all of them,
    /// each small enough to be gone through to its last state.
    /// </summary>
    public static readonly IReadOnlyDictionary<string, IReadOnlyList<Move>> Parts = new Dictionary<
        string,
        IReadOnlyList<Move>
    >(StringComparer.Ordinal)
    {
        ["offsets read wrong"] = Part(
            "baseline read with the raise in it",
            "raised the wrong way",
            "still raised",
            "release by the setter"
        ),
        ["changed"] = Part("work offset set anew", "length changed", "tool replaced"),
        ["set anew and read wrong"] = Part(
            "work offset set anew",
            "baseline read with the raise in it",
            "raised the wrong way",
            "still raised"
        ),
        ["handed over"] = Part(
            "handed over",
            "read back",
            "read back as the baseline",
            "took over",
            "took over by who handed over"
        ),
        ["handed over and changed"] = Part(
            "handed over",
            "read back",
            "took over",
            "work offset set anew",
            "tool replaced"
        ),
        ["handed over and read wrong"] = Part(
            "handed over",
            "read back",
            "took over",
            "still raised",
            "raised the wrong way"
        ),
        ["deviations"] = [.. Part(), .. Deviations],
        ["deviations and changed"] = [.. Part("tool replaced", "work offset set anew"), .. Deviations],
    };

    /// <summary>For a step that may differ by a signature and for one that no signature may open.</summary>
    static IEnumerable<Move> Deviations =>
        [
            One("deviation at the gauge block", new DeviationSigned("air-cut.tool.1.gauge", "no block"), Supervisor),
            One("deviation by the setter", new DeviationSigned("air-cut.tool.1.gauge", "no block"), Setter),
            One("deviation for the way back", new DeviationSigned("restore.offset.G55.z", "later"), Supervisor),
        ];

    static IReadOnlyList<Move> Part(params string[] between) =>
        [
            .. Moves.Where(m =>
                WayThrough.Contains(m.Name, StringComparer.Ordinal) || between.Contains(m.Name, StringComparer.Ordinal)
            ),
        ];

    readonly Fault fault;
    readonly IReadOnlyList<Move> moves;

    SmallModel(Fault fault, IReadOnlyList<Move> moves) => (this.fault, this.moves) = (fault, moves);

    /// <summary>States seen, and how an interlock was broken by which moves; null: never.</summary>
    public static (int States, string? Broken, IReadOnlyList<Move> Path) Explore(
        Fault fault,
        int most,
        ProveOutPlan? plan = null,
        IReadOnlyList<Move>? moves = null
    ) => new SmallModel(fault, moves ?? Moves).Walk(most, plan ?? Plan(1));

    (int States, string? Broken, IReadOnlyList<Move> Path) Walk(int most, ProveOutPlan plan)
    {
        var start = Start(plan);
        var seen = new HashSet<string>(StringComparer.Ordinal) { Print(start.Course, start.Truth) };
        var waiting = new Queue<State>([start]);
        while (waiting.TryDequeue(out var state))
            foreach (var move in moves)
            {
                var (course, truth) = (state.Course.Copy(), state.Truth.Copy());
                List<Move> path = [.. state.Path, move];
                foreach (var (act, by) in move.Acts(course))
                    if (Try(ref course, truth, act, by) is { } broken)
                        return (seen.Count, $"{broken}: {string.Join(", ", path.Select(m => m.Name))}", path);
                if (seen.Count >= most)
                    return (seen.Count, null, []);
                if (seen.Add(Print(course, truth)))
                    waiting.Enqueue(new(course, truth, path));
            }
        return (seen.Count, null, []);
    }

    /// <summary>
    /// Walks anywhere, so many moves, and looks whether what is printed as one state goes on alike with each move, whichever way
    /// led there: else the walk above, which enters a state once, has not seen all. Where it does not, or null.
    /// </summary>
    public static string? GoesOnDifferently(IReadOnlyList<Move> moves, int steps, int seed)
    {
        var (model, chance, plan) = (new SmallModel(Fault.None, moves), new Random(seed), Plan(1));
        var seen = new Dictionary<(string State, int Move), (string To, IReadOnlyList<Move> Path)>();
        State? state = null;
        for (var step = 0; step < steps; step++)
        {
            state = state is null || state.Path.Count == 60 ? Start(plan) : state;
            var (here, move) = (Print(state.Course, state.Truth), chance.Next(moves.Count));
            state = model.After(state, moves[move]);
            var to = Print(state.Course, state.Truth);
            if (seen.TryAdd((here, move), (to, state.Path)))
                continue;
            var other = seen[(here, move)];
            if (other.To != to)
                return $"from {here}\nto {other.To} by {Names(other.Path)}\nto {to} by {Names(state.Path)}";
        }
        return null;
    }

    static string Names(IEnumerable<Move> path) => string.Join(", ", path.Select(m => m.Name));

    static State Start(ProveOutPlan plan)
    {
        var start = new Course(plan);
        Effects.Take(start, Entry(start, new Begun(plan.Digest), Setter));
        return new(start, new(), []);
    }

    State After(State state, Move move)
    {
        var (course, truth) = (state.Course.Copy(), state.Truth.Copy());
        foreach (var (act, by) in move.Acts(course))
            Try(ref course, truth, act, by);
        return new(course, truth, [.. state.Path, move]);
    }

    string? Try(ref Course course, Truth truth, Act act, Actor by)
    {
        var entry = Entry(course, act, by);
        if (fault.Reasons(act, Refusals.For(course, act, by)).Any())
            return null;
        var before = course;
        course = course.Copy();
        if (act is not StepAct step || course.Find(step.Step) is not null)
            Effects.Take(course, entry);
        fault.Effect(before, course, entry);
        return truth.Watch(act, by, Seen(before), Seen(course), course.Standing, course.Ledger);
    }

    public static List<Seen> Seen(Course course) =>
        [
            .. course
                .ReadBack.Values.Concat(course.Table.Rules)
                .Select(r => new Seen(
                    r.Id,
                    r.Phase,
                    r.Takes == Takes.Nothing
                        ? course.IsDone(r.Id)
                            ? StepState.Done
                            : StepState.Waiting
                        : course[r.Id].State
                )),
        ];

    /// <summary>All that what comes next rests on: as the steps stand, for which the answer was shown, and what the registers are and should be.</summary>
    public static string Print(Course course, Truth truth) =>
        string.Join(";", Seen(course).Select(s => $"{(int)s.State}{(course[s.Id].Shown is null ? "" : "!")}"))
        + course.Standing
        + course.ReadBackOpen
        + Values(course.Baselines)
        + Values(course.ShouldBe)
        + truth.State;

    static string Values(Dictionary<Register, Length> registers) =>
        string.Join(",", registers.Select(r => $"{r.Key}={r.Value.Nanometres}").Order(StringComparer.Ordinal)) + "/";

    static Entry Entry(Course course, Act act, Actor by)
    {
        var number = (course.LastEntry?.Number ?? 0) + 1;
        return new(number, Morning.AddMinutes(number), "UTC", by, "tablet 1", number - 1, act);
    }

    static Move One(string name, Act act, Actor by) => new(name, _ => [(act, by)]);

    static Move Typed(string name, string step, string typed, Actor? by = null) =>
        One(name, new ReadingTyped(step, typed), by ?? Setter);

    static Move Steps(string name, Func<string, bool> which, Actor by) =>
        new(
            name,
            c => c.ReadBack.Values.Concat(c.Table.Rules).Where(r => which(r.Id)).Select(r => (Right(c, r), by)).ToList()
        );

    static IEnumerable<string> First(Course course) =>
        course.Table.Rules.Where(r => !course.IsDone(r.Id) && r.CanDeviate).Select(r => r.Id).Take(1);

    static Act Right(Course course, StepRule rule) =>
        rule.Takes switch
        {
            Takes.Reading => new ReadingTyped(rule.Id, Shown(course, rule.Id)),
            Takes.Seen => new FindingsSeen(rule.Id),
            Takes.Percent => new ReadingTyped(
                rule.Id,
                Math.Min(25, rule.AtMost).ToString(System.Globalization.CultureInfo.InvariantCulture)
            ),
            Takes.Photo => new PhotoAdded(new string('a', 64), rule.Id),
            Takes.ProgramLine => new LineTyped(rule.Id, "1234", rule.Program!.AskedBlock),
            Takes.Measurement => new FirstPieceMeasured(rule.Id, rule.Id == "first-piece.1" ? "1" : "0.25"),
            Takes.Signature => new Signed(rule.Id, rule.Signature!.Value),
            _ => new Ticked(rule.Id, "as expected"),
        };

    static string Shown(Course course, string id) =>
        id switch
        {
            "ready.table" => "0.75",
            "air-cut.tool.1.machine-z" => "-9.9625",
            "first-cut.tool.1.machine-z" => "-12.9625",
            _ when id.EndsWith(".length", StringComparison.Ordinal) => "5.0625",
            _ when id.EndsWith("G55.x", StringComparison.Ordinal) => "-22.5000",
            _ when id.EndsWith("G55.y", StringComparison.Ordinal) => "-9.2500",
            "read-back.G55.z" => course.Ledger.Last(new("G55", "z"))!.Typed,
            _ => "0.0000",
        };
}
