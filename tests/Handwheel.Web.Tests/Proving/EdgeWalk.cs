using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Features;
using Handwheel.Web.Features.ProveOuts;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Proving;

/// <summary>
/// Drives the small model's edges through the real actions on a real database, beside the model. Each act is taken or refused by
/// both; afterwards steps, registers, entries, chain and end of the prove-out as stored are those of the model, and nobody who
/// only watches has seen an interlock broken. Every so often an act is sent twice, by two tablets at once, or late; and the
/// server is started anew.
/// </summary>
sealed class EdgeWalk(WalkedShop shop, Fault fault, int seed, IReadOnlyList<SmallModel.Move>? only = null)
{
    sealed class Node
    {
        public Dictionary<int, string> To { get; } = [];
    }

    readonly IReadOnlyList<SmallModel.Move> moves = only ?? SmallModel.Moves;
    readonly Random chance = new(seed);
    readonly Dictionary<string, Node> nodes = new(StringComparer.Ordinal);
    Course course = null!;
    Truth truth = new();
    string? head;
    ProveOutEnd? end;
    int acts;
    const int ActsBetweenRestarts = 250;

    public int Edges { get; private set; }

    /// <summary>The plan that the real check made. The model's own has a finding, which a handoff has to name, so that it has fewer states.</summary>
    public ProveOutPlan Plan => course.Plan;
    public int States => nodes.Count;
    public int Acts => acts;

    /// <summary>Breaks what is stored after each accepted act, for a planted fault of the database's side.</summary>
    public Func<HandwheelDb, OpenedProveOut, Task>? Sabotage { get; init; }

    /// <summary>Until so many edges were driven or none is left; what came apart, with the way there, or null.</summary>
    public async Task<string?> Run(int most)
    {
        await Begin();
        while (Edges < most)
        {
            var here = SmallModel.Print(course, truth);
            if (Next(here) is not { } move)
            {
                if (Undriven(here) is not { } way)
                {
                    await Begin();
                    if (
                        Next(SmallModel.Print(course, truth)) is null
                        && Undriven(SmallModel.Print(course, truth)) is null
                    )
                        return null;
                    continue;
                }
                foreach (var step in way)
                    if (await Drive(step) is { } lost)
                        return lost;
                continue;
            }
            if (await Drive(move) is { } apart)
                return apart;
        }
        return null;
    }

    /// <summary>These moves in order; where the two came apart, or null.</summary>
    public async Task<string?> Along(IEnumerable<SmallModel.Move> path)
    {
        await Begin();
        var done = new List<string>();
        foreach (var move in path)
        {
            done.Add(move.Name);
            if (await Drive(moves.ToList().IndexOf(move)) is { } apart)
                return $"{apart} after {string.Join(", ", done)}";
        }
        return null;
    }

    async Task Begin()
    {
        var plan = await shop.Begin();
        (course, truth, head, end) = (new(plan), new(), null, null);
        Effects.Take(course, EntryOf(new Begun(plan.Digest), shop.Real(SmallShop.Setter)));
        nodes.TryAdd(SmallModel.Print(course, truth), new());
    }

    /// <summary>Mostly the first move that was not driven here, which is on the right way; else any.</summary>
    int? Next(string here)
    {
        var open = Enumerable.Range(0, moves.Count).Where(m => !nodes[here].To.ContainsKey(m)).ToList();
        return open.Count == 0 ? null
            : chance.Next(3) > 0 ? open[0]
            : open[chance.Next(open.Count)];
    }

    /// <summary>The shortest known way to a state with a move that was not driven.</summary>
    List<int>? Undriven(string from)
    {
        var waiting = new Queue<(string At, List<int> Way)>([(from, [])]);
        var seen = new HashSet<string>(StringComparer.Ordinal) { from };
        while (waiting.TryDequeue(out var state))
        {
            if (state.Way.Count > 0 && nodes[state.At].To.Count < moves.Count)
                return state.Way;
            foreach (var (move, to) in nodes[state.At].To.Where(e => seen.Add(e.Value)))
                waiting.Enqueue((to, [.. state.Way, move]));
        }
        return null;
    }

    async Task<string?> Drive(int number)
    {
        var (here, move) = (SmallModel.Print(course, truth), moves[number]);
        foreach (var (act, by) in move.Acts(course))
            if (await Do(act, shop.Real(by)) is { } apart)
                return $"{move.Name}, {act}: {apart}";
        var there = SmallModel.Print(course, truth);
        nodes.TryAdd(there, new());
        if (nodes[here].To.TryAdd(number, there))
            Edges++;
        else if (nodes[here].To[number] != there)
            return $"{move.Name} led to another state than before";
        return null;
    }

    async Task<string?> Do(Act act, Actor by)
    {
        shop.Shop.Time.Advance(TimeSpan.FromMinutes(1));
        if (++acts % ActsBetweenRestarts == 0)
            await shop.Shop.Restart();
        var entry = EntryOf(act, by);
        var refused = fault.Reasons(act, Refusals.For(course, act, by)).ToList();
        var key = Guid.NewGuid().ToString();
        var together = act is StepAct && chance.Next(8) == 0;
        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, together ? 2 : 1)
                .Select(tablet =>
                    Task.Run(() => shop.Take(act, by, entry.BasedOn, tablet == 0 ? key : key + "b", tablet))
                )
        );
        var taken = answers.Count(a => a.Refused is null);
        if (taken > 1)
            return "two tablets at one step, and both were taken";
        if (taken == 1 != (refused.Count == 0))
            return taken == 1
                ? $"taken, and the model refuses: {string.Join(" ", refused)}"
                : $"refused: {answers[0].Refused}, and the model takes it";
        if (taken == 0)
            return await HasStoredNothing() ? null : "refused, and something was stored";
        var before = Steps(await Before(entry));
        Take(act, entry);
        if (Sabotage is { } break_)
        {
            await using var db = await shop.Shop.Db();
            await break_(db, await shop.Open());
        }
        return await Late(act, by, entry, key, answers) ?? await Compare(act, by, before);
    }

    void Take(Act act, Entry entry)
    {
        var old = course;
        course = course.Copy();
        if (act is not StepAct step || course.Find(step.Step) is not null)
            Effects.Take(course, entry);
        fault.Effect(old, course, entry);
    }

    /// <summary>Entries, readings and head are as many and the same as after the last act that was taken.</summary>
    async Task<bool> HasStoredNothing()
    {
        await using var db = await shop.Shop.Db();
        var log = await db.ProveOuts.AsNoTracking().SingleAsync(p => p.Id == shop.ProveOut);
        var entries = await db.ProveOutEntries.CountAsync(e => e.ProveOutId == shop.ProveOut);
        var readings = await db.MachineReadings.CountAsync(r => r.MachineId == shop.Machine.Id);
        var last = course.LastEntry?.Number ?? 0;
        return log.LastNumber == last
            && log.LastHash == (head ?? log.LastHash)
            && log.End == (end ?? log.End)
            && entries == last
            && readings == course.Ledger.Readings.Count;
    }

    /// <summary>The prove-out as it was before the act, for the one who watches.</summary>
    async Task<ProveOut> Before(Entry entry)
    {
        var open = await shop.Open();
        return ProveOut.Replay(open.ProveOut.Plan, [.. open.Entries.Where(e => e.Number < entry.Number)], Ledger.Empty);
    }

    /// <summary>A tablet that sends again gets the first answer; one that comes late with the same is told so.</summary>
    async Task<string?> Late(Act act, Actor by, Entry entry, string key, Answer<string>[] answers)
    {
        if (answers.Length > 1)
            return null;
        if (chance.Next(3) == 0)
        {
            var again = await shop.Take(act, by, entry.BasedOn, key);
            if (again.Value != answers[0].Value)
                return "sent again, and answered otherwise: " + again.Refused;
        }
        if (act is StepAct && chance.Next(6) == 0)
        {
            var late = await shop.Take(act, by, entry.BasedOn, Guid.NewGuid().ToString(), tablet: 1);
            if (late.Refused is null)
                return "sent late by another tablet, and taken a second time";
        }
        return null;
    }

    async Task<string?> Compare(Act act, Actor by, List<Seen> before)
    {
        var open = await shop.Open();
        var real = Steps(open.ProveOut);
        if (open.ProveOut.Unexplained.Count > 0)
            return "an entry is stored that the rules do not take";
        if (open.ProveOut.Last != course.LastEntry!.Number || open.Entries[^1].By.Person != by.Person)
            return $"entry {course.LastEntry.Number} by {by.Name} is not the last one stored";
        if (open.ProveOut.Standing != course.Standing || Ends(open.Log.End) != Ends(course.Standing))
            return $"it stands {open.ProveOut.Standing}, {open.Log.End}; the model {course.Standing}";
        var stored = real.ToDictionary(s => s.Id, s => s.State, StringComparer.Ordinal);
        foreach (var step in SmallModel.Seen(course))
            if (stored.GetValueOrDefault(step.Id) is var state && state != step.State)
                return $"{step.Id} is {state}, in the model {step.State}";
        return await Stored(open) ?? truth.Watch(act, by, before, real, open.ProveOut.Standing, open.ProveOut.Ledger);
    }

    /// <summary>Ledger and chain as the database has them.</summary>
    async Task<string?> Stored(OpenedProveOut open)
    {
        await using var db = await shop.Shop.Db();
        var ledger = await ProveOutReader.LedgerOf(db, shop.Machine.Id);
        if (ledger.Readings.Count != course.Ledger.Readings.Count)
            return $"{ledger.Readings.Count} readings are in the machine's ledger, in the model {course.Ledger.Readings.Count}";
        foreach (var register in course.Ledger.Readings.Select(r => new Register(r.Register, r.Axis)).Distinct())
            if (ledger.Last(register) != course.Ledger.Last(register))
                return $"{register} is not in the ledger as it was last read";
        var hash = RecordChain.Start;
        var rows = await db
            .ProveOutEntries.Where(e => e.ProveOutId == open.Log.Id)
            .OrderBy(e => e.Number)
            .ToListAsync();
        foreach (var row in rows)
        {
            hash = RecordChain.Next(open.Log.Id, row.Number, hash, Encoding.UTF8.GetBytes(row.Body));
            if (row.Hash != Convert.ToHexStringLower(hash))
                return $"entry {row.Number} is not as it was hashed";
        }
        (head, end) = (open.Log.LastHash, open.Log.End);
        return open.Log.LastHash == Convert.ToHexStringLower(hash) ? null : "the head is not the last entry's hash";
    }

    static string Ends(Standing standing) =>
        standing is Standing.Released or Standing.Abandoned ? standing.ToString() : "";

    static string Ends(ProveOutEnd end) => end is ProveOutEnd.Open ? "" : end.ToString();

    /// <summary>What is shown as waiting is open in the model, which works that out from the other steps.</summary>
    static List<Seen> Steps(ProveOut proveOut) =>
        [
            .. proveOut.Steps.Select(s => new Seen(
                s.Id,
                s.Phase,
                s.State == StepState.Waiting && s.Takes != Takes.Nothing ? StepState.Open : s.State
            )),
        ];

    Entry EntryOf(Act act, Actor by)
    {
        var last = course.LastEntry?.Number ?? 0;
        return new(last + 1, shop.Shop.Time.GetUtcNow(), "UTC", by, "tablet 1", last, act);
    }
}
