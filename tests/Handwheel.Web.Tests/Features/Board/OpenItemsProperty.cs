using System.Globalization;
using CsCheck;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Nc;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Features.Board;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Tests.Data;
using Microsoft.Extensions.Time.Testing;
using static Handwheel.Tests.Jobs.Proving.SmallShop;
using Job = Handwheel.Data.Job;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Tests.Features.Board;

/// <summary>
/// Random people prove out, hand over, hold, settle, abandon, release, begin the next job and read registers in between, and the
/// server starts anew. Somebody who only watches what they typed and signed knows what is open on the machine; the board
/// shows just that after every act, so nothing leaves it but by a right reading or a signature.
/// </summary>
public sealed class OpenItemsProperty
{
    /// <summary>HANDWHEEL_BOARD_RUNS=100000 is the long run; the seed of a failure is printed.</summary>
    static int Runs => LongRun.Asked("HANDWHEEL_BOARD_RUNS", 150);

    [Fact]
    public void Nothing_open_leaves_the_board_but_by_a_right_reading_or_a_signature()
    {
        Gen.Int[0, 1_000_000]
            .Array[20, 120]
            .Sample(
                choices =>
                {
                    var machine = new WatchedMachine();
                    foreach (var choice in choices)
                        if (machine.Step(choice) is { } wrong)
                            Assert.Fail($"{wrong}; after: {string.Join("; ", machine.Acts.TakeLast(12))}");
                },
                iter: Runs
            );
    }

    /// <summary>
    /// The same people with fixed seeds, until every kind of item was opened and closed in every way that there is: without
    /// that the random runs would prove nothing.
    /// </summary>
    [Fact]
    public void The_random_people_close_items_in_every_way()
    {
        var seen = new SortedSet<string>(StringComparer.Ordinal);
        for (var seed = 0; seed < 2_000 && seen.Count < WatchedMachine.WaysToClose.Length; seed++)
        {
            var random = new Random(seed);
            var machine = new WatchedMachine();
            for (var acts = 0; acts < 120; acts++)
                Assert.Null(machine.Step(random.Next(1_000_000)));
            seen.UnionWith(machine.Closed);
        }
        Assert.Equal(WatchedMachine.WaysToClose.Order(StringComparer.Ordinal), seen);
    }

    /// <summary>Forgets what is open as the board might; the watcher must see it.</summary>
    [Theory]
    [InlineData("register")]
    [InlineData("handoff")]
    [InlineData("held")]
    [InlineData("lockout")]
    public void An_item_that_is_lost_is_seen(string kind)
    {
        string? lost = null;
        for (var seed = 0; lost is null && seed < 100; seed++)
        {
            var random = new Random(seed);
            var machine = new WatchedMachine { Loses = kind };
            for (var acts = 0; lost is null && acts < 120; acts++)
                lost = machine.Step(random.Next(1_000_000));
        }
        Assert.NotNull(lost);
    }
}

/// <summary>One machine, its board card, and what is open on it by the acts that were taken.</summary>
sealed class WatchedMachine
{
    public static readonly string[] WaysToClose =
    [
        "register by a reading in a prove-out",
        "register by a reading outside",
        "register by a supervisor's statement",
        "handoff by taking over",
        "handoff by withdrawing it",
        "handoff by abandoning",
        "held by settling it",
        "held by a deviation",
        "held by abandoning",
        "lockout by signing that it is none",
        "lockout after the prove-out by signing that it is none",
    ];

    static readonly ShopClock Clock = new(TimeZoneInfo.Utc, new FakeTimeProvider(Morning.AddDays(1)));
    readonly Machine machine = new() { Name = "Mill 2", Facts = "{}" };
    readonly SortedDictionary<string, string> open = new(StringComparer.Ordinal);
    readonly Dictionary<string, decimal> right = [];
    readonly List<LedgerReading> outside = [];
    Ledger ledger = Ledger.Empty;
    Walk? walk;

    /// <summary>The last that has ended.</summary>
    Walk? ended;
    byte jobs;
    int minutes;

    /// <summary>What the board is made to forget; empty: nothing.</summary>
    public string Loses { get; init; } = "";
    public HashSet<string> Closed { get; } = [];
    public List<string> Acts { get; } = [];

    /// <summary>One act or none; what the board shows otherwise than it is, or null.</summary>
    public string? Step(int choice)
    {
        if (walk is null)
            Between(choice);
        else
            Within(walk, choice);
        if (choice % 7 == 0)
            StartAnew();
        return Compare();
    }

    void Within(Walk at, int choice)
    {
        var (act, by) = choice % 23 == 0 ? Rarely(at, choice / 23) : RandomPeople.Choose(at, choice / 2);
        if (at.ProveOut.WhyNot(at.Entry(act, by)).Count > 0)
            return;
        var titles = at.ProveOut.Steps.ToDictionary(s => s.Id, s => $"{s.Card}, {s.Title}", StringComparer.Ordinal);
        at.Do(act, by);
        Acts.Add($"{by.Name} {act}");
        ledger = at.ProveOut.Ledger;
        Note(act, titles);
        if (at.ProveOut.Standing is Standing.Released or Standing.Abandoned)
        {
            foreach (var held in open.Keys.Where(k => k.StartsWith("held ", StringComparison.Ordinal)).ToList())
                Close(held, act is Abandoned ? "held by abandoning" : "held by a release");
            ended = walk;
            walk = null;
        }
    }

    static (Act Act, Actor By) Rarely(Walk at, int choice)
    {
        var steps = at.ProveOut.Steps;
        var waiting = steps.Where(s => s.State == StepState.Open).ToList();
        var held = steps.FirstOrDefault(s => s.State == StepState.Held);
        return (choice % 6, held) switch
        {
            (0, _) => (new Abandoned("wrong blank"), Supervisor),
            (1 or 2, null) when waiting.Count > 0 => (
                new Differs(waiting[choice / 6 % waiting.Count].Id, "a gap"),
                Setter
            ),
            (1 or 2 or 3, { } step) => (new DifferenceSettled(step.Id, "seated again"), Setter),
            (4, { } step) => (new DeviationSigned(step.Id, "looked at"), Supervisor),
            _ when at.ProveOut.LockedOut is not null && choice % 7 < 3 => (new LockoutLifted("key back"), Setter),
            _ => (new HandoffWithdrawn("goes on"), Supervisor),
        };
    }

    /// <summary>The next job is begun, or a register read at the machine.</summary>
    void Between(int choice)
    {
        if (ended?.ProveOut.LockedOut is not null && choice % 5 == 0)
        {
            ended.Do(new LockoutLifted("key back"), Setter);
            Acts.Add("lifted after the end");
            minutes++;
            Close("locked out", "lockout after the prove-out by signing that it is none");
            return;
        }
        if (choice % 3 == 0 || ledger.Readings.Count == 0)
        {
            var plan = Plan(1);
            plan = plan with
            {
                Subject = plan.Subject with { ProveOut = new Guid(++jobs, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0) },
            };
            var next = new Walk(ProveOut.Replay(plan, [], ledger), Morning.AddMinutes(minutes));
            var begun = new Begun(plan.Digest, ended?.ProveOut.LockedOut);
            if (next.ProveOut.WhyNot(next.Entry(begun, Setter)).Count == 0)
                walk = next.Do(begun);
            return;
        }
        var registers = ledger.Readings.Select(r => new Register(r.Register, r.Axis)).Distinct().ToList();
        var hazards = ledger.Hazards.Select(h => h.Register).ToList();
        var register = hazards.Count > 0 && choice % 2 == 0 ? hazards[0] : registers[choice / 8 % registers.Count];
        var typed =
            choice % 5 == 0
                ? RandomPeople.Z[choice / 5 % RandomPeople.Z.Length]
                : ShouldBe(register).ToString("F4", CultureInfo.InvariantCulture);
        var (by, statement) = choice % 11 == 0 ? (Supervisor, true) : (RandomPeople.All[choice % 4], choice % 13 == 0);
        if (Ledger.WhyNotOutside(typed, Units.Inch, In(0.0001m), by, statement).Count > 0)
            return;
        var value = decimal.Parse(typed, NumberStyles.Number, CultureInfo.InvariantCulture);
        var reading = ledger.Outside(
            SmallShop.Machine,
            register,
            In(value),
            typed,
            Units.Inch,
            by,
            Morning.AddMinutes(++minutes),
            statement
        );
        ledger = ledger.With(reading);
        Acts.Add($"{by.Name} outside {register} {typed}{(statement ? " stated" : "")}");
        if (statement)
            right[register.ToString()] = value;
        Read(register, value, statement ? "register by a supervisor's statement" : "register by a reading outside");
    }

    void Note(Act act, Dictionary<string, string> titles)
    {
        minutes++;
        switch (act)
        {
            case ReadingTyped reading when RegisterOf(reading.Step) is { } register:
                right.Remove(register.ToString());
                var typed = decimal.Parse(reading.Typed, NumberStyles.Number, CultureInfo.InvariantCulture);
                // The baseline, where the step asks for the raise: nobody believes it before it was read a second time.
                var again = walk!.ProveOut.Steps.Any(s => s.Id == reading.Step && s.State == StepState.ReadAgain);
                if (!again || typed != ShouldBe(register))
                    Read(register, typed, "register by a reading in a prove-out");
                break;
            case HandedOver or TakingOverAlone:
                open["handoff"] = "Handoff open";
                if (act is HandedOver { SaysLockedOut: { } locked })
                    open["locked out"] = "Locked out or bypassed: " + locked;
                break;
            case LockoutLifted:
                Close("locked out", "lockout by signing that it is none");
                break;
            case TookOver:
                Close("handoff", "handoff by taking over");
                break;
            case HandoffWithdrawn:
                Close("handoff", "handoff by withdrawing it");
                break;
            case Abandoned:
                Close("handoff", "handoff by abandoning");
                break;
            case Differs differs:
                open["held " + differs.Step] = titles[differs.Step] + ": " + StepWords.Of(StepState.Held);
                break;
            case DifferenceSettled settled:
                Close("held " + settled.Step, "held by settling it");
                break;
            case DeviationSigned deviation:
                Close("held " + deviation.Step, "held by a deviation");
                break;
        }
    }

    void Read(Register register, decimal value, string how)
    {
        if (value == ShouldBe(register))
            Close(register.ToString(), how);
        else
            open[register.ToString()] = register + " ";
    }

    void Close(string item, string how)
    {
        if (open.Remove(item))
            Closed.Add(how);
    }

    /// <summary>The setup's values; after a supervisor's statement what was signed, until the next job reads the register.</summary>
    decimal ShouldBe(Register register) =>
        right.TryGetValue(register.ToString(), out var stated)
            ? stated
            : register.ToString() switch
            {
                "G55 X" => -22.5m,
                "G55 Y" => -9.25m,
                "G55 Z" => -18.125m,
                "H1 length" => Length(1),
                _ => 0,
            };

    static Register? RegisterOf(string step) =>
        step.Split('.') switch
        {
            ["ready", "tool", var key, "length"] => new($"H{key}", "length"),
            [_, "offset" or "raised", var name, var axis] => new(name, axis),
            ["put-back" or "read-back", var name, var axis] => new(name, axis),
            _ => null,
        };

    /// <summary>What is kept is entries and readings: everything else is worked out from them again.</summary>
    void StartAnew()
    {
        ledger = Ledger.Fold(ledger.Readings);
        walk?.StartAnew(ledger);
        ended?.StartAnew(ledger);
    }

    string? Compare()
    {
        var card = MachineCard.Of(OnBoard(), Clock);
        var hurts = card.Hurts.Where(h => !IsLost(h)).ToList();
        foreach (var item in open.Values)
            if (!hurts.Any(h => h.StartsWith(item, StringComparison.Ordinal)))
                return $"{item} is open, and the board shows only: {string.Join(" | ", hurts)}";
        foreach (var hurt in hurts)
            if (!open.Values.Any(item => hurt.StartsWith(item, StringComparison.Ordinal)) && !IsOfStepsOnly(hurt))
                return $"the board shows \"{hurt}\", and nothing like it is open";
        return null;
    }

    /// <summary>A step that refused a reading and waits for another is no item of its own.</summary>
    bool IsOfStepsOnly(string hurt) =>
        hurt.EndsWith(StepWords.Of(StepState.Refused), StringComparison.Ordinal)
        || walk?.ProveOut.RaisesLost.Any(l => hurt.StartsWith(l.Why, StringComparison.Ordinal)) is true;

    bool IsLost(string hurt) =>
        Loses switch
        {
            "register" => hurt.StartsWith("G55 ", StringComparison.Ordinal),
            "handoff" => hurt.StartsWith("Handoff", StringComparison.Ordinal),
            "lockout" => hurt.StartsWith("Locked out", StringComparison.Ordinal),
            "held" => hurt.EndsWith(StepWords.Of(StepState.Held), StringComparison.Ordinal),
            _ => false,
        };

    MachineOnBoard OnBoard()
    {
        if (walk is null)
            return new(machine, ledger.Hazards, ended?.ProveOut.LockedOut, null, null, [], 0);
        var log = new ProveOutLog
        {
            PlanSha256 = "aa",
            Zone = "UTC",
            LastHash = "bb",
        };
        var opened = new OpenedProveOut(
            log,
            new Job { Part = "bracket" },
            machine,
            walk.ProveOut,
            walk.ProveOut.Entries
        );
        return new(machine, ledger.Hazards, opened.LockedOut, opened, StepWords.NextOf(walk.ProveOut), [], 0);
    }
}
