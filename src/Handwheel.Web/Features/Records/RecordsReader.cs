using Handwheel.Data;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Records;

/// <summary>One prove-out in the list of records.</summary>
/// <param name="Program">Name of the main program that was in the job when the prove-out ended, or is in it now.</param>
/// <param name="ProgramSha256">Its digest.</param>
/// <param name="People">Names of everybody who wrote in it, in the order of the alphabet.</param>
/// <param name="Head">Hash of the newest entry: what paper shows.</param>
public sealed record RecordRow(
    Guid ProveOut,
    int JobNumber,
    string Part,
    string Operation,
    string Revision,
    string Machine,
    string Program,
    string ProgramSha256,
    string People,
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
        var logs =
            from log in db.ProveOuts
            join job in db.Jobs on log.JobId equals job.Id
            join machine in db.Machines on log.MachineId equals machine.Id
            orderby log.StartedAt descending
            select new
            {
                Log = log,
                Job = job,
                Machine = machine.Name,
            };
        var rows = await logs.AsNoTracking().ToListAsync();
        var programs = await Programs(db);
        var people = await People(db);
        return
        [
            .. rows.Select(r =>
            {
                var program = programs[r.Job.Id].LastOrDefault(f => InUse(f, r.Log));
                return new RecordRow(
                    r.Log.Id,
                    r.Job.Number,
                    r.Job.Part,
                    r.Job.Operation,
                    r.Job.Revision,
                    r.Machine,
                    program?.Name ?? "",
                    program?.Sha256 ?? "",
                    people.GetValueOrDefault(r.Log.Id, ""),
                    r.Log.StartedAt,
                    r.Log.EndedAt,
                    r.Log.End,
                    r.Log.LastNumber,
                    r.Log.LastHash
                );
            }),
        ];
    }

    static bool InUse(JobFile file, ProveOutLog log) =>
        log.EndedAt is { } end
            ? file.AddedAt <= end && (file.ReplacedAt is null || file.ReplacedAt > end)
            : file.ReplacedAt is null;

    static async Task<ILookup<Guid, JobFile>> Programs(HandwheelDb db) =>
        (
            await db
                .JobFiles.AsNoTracking()
                .Where(f => f.Kind == JobFileKind.Program)
                .OrderBy(f => f.AddedAt)
                .ToListAsync()
        ).ToLookup(f => f.JobId);

    static async Task<Dictionary<Guid, string>> People(HandwheelDb db)
    {
        var writers =
            from entry in db.ProveOutEntries
            join person in db.People on entry.PersonId equals person.Id
            select new { entry.ProveOutId, person.Name };
        return (await writers.Distinct().ToListAsync())
            .GroupBy(w => w.ProveOutId)
            .ToDictionary(g => g.Key, g => string.Join(", ", g.Select(w => w.Name).Order(StringComparer.Ordinal)));
    }
}
