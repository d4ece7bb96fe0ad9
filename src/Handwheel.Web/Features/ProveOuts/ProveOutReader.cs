using System.Collections.Concurrent;
using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>A prove-out as it stands, with the rows it was folded from.</summary>
public sealed record OpenedProveOut(
    ProveOutLog Log,
    Job Job,
    Machine Machine,
    ProveOut ProveOut,
    IReadOnlyList<Entry> Entries
)
{
    /// <summary>The newest entry, null when there is none: who did what last, and when.</summary>
    public Entry? LastEntry => Entries.Count == 0 ? null : Entries[^1];

    /// <summary>What is locked out or bypassed on its machine now; null: nothing that anybody wrote.</summary>
    public LockedOut? LockedOut { get; init; } = ProveOut.LockedOut;
}

/// <summary>What was left locked out or bypassed by a prove-out that has ended.</summary>
/// <param name="ProveOut">Where somebody signs that it is so no longer.</param>
/// <param name="Last">Number of its newest entry.</param>
public sealed record LeftLockedOut(LockedOut What, Guid ProveOut, long Last);

/// <summary>What is known of a machine now, whoever has gone home and whatever has ended.</summary>
/// <param name="UnderWay">The prove-out on it; null: none.</param>
/// <param name="Left">While none is under way: what the last one left locked out or bypassed.</param>
public sealed record MachineState(OpenedProveOut? UnderWay, Ledger Ledger, LeftLockedOut? Left)
{
    /// <summary>What is locked out or bypassed; null: nothing that anybody wrote.</summary>
    public LockedOut? LockedOut => UnderWay is { } open ? open.LockedOut : Left?.What;
}

/// <summary>Loads prove-outs and ledgers and folds them.</summary>
public sealed class ProveOutReader(IDbContextFactory<HandwheelDb> databases)
{
    // Plans are stored under their own digest, so what was read once stays true.
    readonly ConcurrentDictionary<string, ProveOutPlan> plans = new(StringComparer.Ordinal);
    const int PlansKept = 200;

    /// <summary>Kinds of entries that say what is locked out, as they stand in an entry's body.</summary>
    static readonly string[] Telling = ["\"kind\":\"handed-over\"", "\"kind\":\"lockout-lifted\""];

    public async Task<OpenedProveOut?> Open(Guid proveOut)
    {
        await using var db = await databases.CreateDbContextAsync();
        return await Open(db, proveOut);
    }

    public async Task<MachineState> StateOf(HandwheelDb db, Guid machine) =>
        await UnderWay(db, machine) is { } open
            ? new(open, open.ProveOut.Ledger, null)
            : new(null, await LedgerOf(db, machine), await LeftLockedOutOn(db, machine));

    /// <summary>The prove-out under way on a machine, or null.</summary>
    public async Task<OpenedProveOut?> UnderWay(HandwheelDb db, Guid machine)
    {
        var id = await db
            .ProveOuts.Where(p => p.MachineId == machine && p.End == ProveOutEnd.Open)
            .OrderByDescending(p => p.StartedAt)
            .Select(p => (Guid?)p.Id)
            .FirstOrDefaultAsync();
        return id is { } open ? await Open(db, open) : null;
    }

    public async Task<OpenedProveOut?> Open(HandwheelDb db, Guid proveOut)
    {
        var log = await db.ProveOuts.SingleOrDefaultAsync(p => p.Id == proveOut);
        if (log is null)
            return null;
        var job = await db.Jobs.SingleAsync(j => j.Id == log.JobId);
        var machine = await db.Machines.SingleAsync(m => m.Id == log.MachineId);
        var plan = await Plan(db, log.PlanSha256);
        var entries = await Entries(db, proveOut);
        var folded = ProveOut.Replay(plan, entries, await LedgerOf(db, log.MachineId));
        var opened = new OpenedProveOut(log, job, machine, folded, entries);
        return folded.HasEnded ? opened with { LockedOut = (await LeftLockedOutOn(db, log.MachineId))?.What } : opened;
    }

    public async Task<ProveOutPlan> Plan(HandwheelDb db, string sha256)
    {
        if (plans.TryGetValue(sha256, out var known))
            return known;
        var file = await db.Files.AsNoTracking().SingleAsync(f => f.Sha256 == sha256);
        var plan = PlanJson.Read(file.Content);
        if (plans.Count >= PlansKept)
            plans.Clear();
        return plans[sha256] = plan;
    }

    public static async Task<IReadOnlyList<Entry>> Entries(HandwheelDb db, Guid proveOut)
    {
        var bodies = await db
            .ProveOutEntries.AsNoTracking()
            .Where(e => e.ProveOutId == proveOut)
            .OrderBy(e => e.Number)
            .Select(e => e.Body)
            .ToListAsync();
        return [.. bodies.Select(b => EntryJson.Read(Encoding.UTF8.GetBytes(b)))];
    }

    /// <summary>As the newest prove-out on the machine has it: each begins with what the one before it left.</summary>
    public static async Task<LeftLockedOut?> LeftLockedOutOn(HandwheelDb db, Guid machine)
    {
        var newest = await db
            .ProveOuts.AsNoTracking()
            .Where(p => p.MachineId == machine)
            .OrderByDescending(p => p.StartedAt)
            .FirstOrDefaultAsync();
        if (newest is null)
            return null;
        var bodies = await db
            .ProveOutEntries.AsNoTracking()
            .Where(e => e.ProveOutId == newest.Id && (e.Number == 1 || Telling.Any(kind => e.Body.Contains(kind))))
            .OrderBy(e => e.Number)
            .Select(e => e.Body)
            .ToListAsync();
        var left = bodies
            .Select(b => EntryJson.Read(Encoding.UTF8.GetBytes(b)))
            .Aggregate((LockedOut?)null, LockedOut.After);
        return left is null ? null : new(left, newest.Id, newest.LastNumber);
    }

    /// <summary>What the registers of a machine were when somebody last read them.</summary>
    public static async Task<Ledger> LedgerOf(HandwheelDb db, Guid machine)
    {
        var readings = await db
            .MachineReadings.AsNoTracking()
            .Where(r => r.MachineId == machine)
            .OrderBy(r => r.Number)
            .ToListAsync();
        return Ledger.Fold([.. readings.Select(r => r.ForLedger())]);
    }
}
