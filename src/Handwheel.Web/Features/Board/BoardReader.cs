using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.ProveOuts;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Board;

/// <summary>A machine as the board shows it.</summary>
/// <param name="Hazards">Registers that are not as they should be, worst first.</param>
/// <param name="LockedOut">What is locked out or bypassed, as somebody wrote; null: nothing.</param>
/// <param name="UnderWay">The prove-out on it now; null: none.</param>
/// <param name="Next">The first step that can be done now.</param>
/// <param name="Waiting">Jobs for this machine that nobody has begun, oldest first.</param>
/// <param name="WaitingStops">Findings at level stop of the first that waits.</param>
public sealed record MachineOnBoard(
    Machine Machine,
    IReadOnlyList<Hazard> Hazards,
    LockedOut? LockedOut,
    OpenedProveOut? UnderWay,
    StepView? Next,
    IReadOnlyList<Job> Waiting,
    int WaitingStops
)
{
    /// <summary>True from the moment the outgoing person signed until the incoming one has.</summary>
    public bool HandoffOpen => UnderWay?.ProveOut.Standing is Standing.HandoffOpen;

    internal int Rank =>
        Hazards.Any(h => h.Raised) ? 0
        : Hazards.Count > 0 || LockedOut is not null ? 1
        : HandoffOpen ? 2
        : UnderWay is not null ? 3
        : Waiting.Count > 0 ? 4
        : 5;
}

/// <summary>The board: machines in use, worst first.</summary>
public sealed class BoardReader(IDbContextFactory<HandwheelDb> databases, ProveOutReader proveOuts, JobReader jobs)
{
    public async Task<IReadOnlyList<MachineOnBoard>> Read()
    {
        await using var db = await databases.CreateDbContextAsync();
        var machines = await db.Machines.AsNoTracking().Where(m => !m.Retired).OrderBy(m => m.Name).ToListAsync();
        var begun = db.ProveOuts.Select(p => p.JobId);
        var waiting = await db
            .Jobs.AsNoTracking()
            .Include(j => j.Files)
            .Where(j => !j.PutAway && !begun.Contains(j.Id))
            .OrderBy(j => j.Number)
            .ToListAsync();
        var board = new List<MachineOnBoard>();
        foreach (var machine in machines)
            board.Add(await One(db, machine, [.. waiting.Where(j => j.MachineId == machine.Id)]));
        return [.. board.OrderBy(m => m.Rank).ThenBy(m => m.Machine.Name, StringComparer.CurrentCulture)];
    }

    async Task<MachineOnBoard> One(HandwheelDb db, Machine machine, IReadOnlyList<Job> waiting)
    {
        var state = await proveOuts.StateOf(db, machine.Id);
        var underWay = state.UnderWay;
        var next = underWay is null ? null : StepWords.NextOf(underWay.ProveOut);
        var stops = underWay is null && waiting is [{ SetupIsDraft: false } first, ..] ? await jobs.StopsOf(first) : 0;
        return new(machine, state.Ledger.Hazards, state.LockedOut, underWay, next, waiting, stops);
    }
}
