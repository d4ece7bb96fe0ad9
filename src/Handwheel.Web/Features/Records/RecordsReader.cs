using Handwheel.Data;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Records;

/// <summary>One prove-out in the list of records.</summary>
/// <param name="Head">Hash of the newest entry: what paper shows.</param>
public sealed record RecordRow(
    Guid ProveOut,
    int JobNumber,
    string Part,
    string Operation,
    string Revision,
    string Machine,
    DateTimeOffset StartedAt,
    DateTimeOffset? EndedAt,
    ProveOutEnd End,
    long Entries,
    string Head
);

/// <summary>All prove-outs, the newest first.</summary>
public sealed class RecordsReader(IDbContextFactory<HandwheelDb> databases)
{
    public async Task<IReadOnlyList<RecordRow>> Read()
    {
        await using var db = await databases.CreateDbContextAsync();
        var rows =
            from log in db.ProveOuts
            join job in db.Jobs on log.JobId equals job.Id
            join machine in db.Machines on log.MachineId equals machine.Id
            orderby log.StartedAt descending
            select new RecordRow(
                log.Id,
                job.Number,
                job.Part,
                job.Operation,
                job.Revision,
                machine.Name,
                log.StartedAt,
                log.EndedAt,
                log.End,
                log.LastNumber,
                log.LastHash
            );
        return await rows.AsNoTracking().ToListAsync();
    }
}
