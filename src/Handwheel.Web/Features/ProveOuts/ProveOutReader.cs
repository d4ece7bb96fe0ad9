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
}

/// <summary>Loads prove-outs and ledgers and folds them.</summary>
public sealed class ProveOutReader(IDbContextFactory<HandwheelDb> databases)
{
    // Plans are stored under their own digest, so what was read once stays true.
    readonly ConcurrentDictionary<string, ProveOutPlan> plans = new(StringComparer.Ordinal);
    const int PlansKept = 200;

    public async Task<OpenedProveOut?> Open(Guid proveOut)
    {
        await using var db = await databases.CreateDbContextAsync();
        return await Open(db, proveOut);
    }

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
        return new(log, job, machine, folded, entries);
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
