using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Sheets;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

/// <summary>The program that was released last with a job, and whether it is the one in use.</summary>
/// <param name="InUse">The programs now in use are those that were proven, byte for byte.</param>
public sealed record ProvenProgram(Guid ProveOut, DateTimeOffset Released, string Sha256, bool InUse)
{
    public static async Task<ProvenProgram?> Of(HandwheelDb db, ProveOutReader proveOuts, OpenedJob job)
    {
        var log = await db
            .ProveOuts.AsNoTracking()
            .Where(p => p.JobId == job.Job.Id && p.End == ProveOutEnd.Released)
            .OrderByDescending(p => p.EndedAt)
            .FirstOrDefaultAsync();
        if (log is null)
            return null;
        var proven = (await proveOuts.Plan(db, log.PlanSha256)).Subject.Programs;
        var inUse = new[] { job.Program }.Concat(job.Subprograms).Select(p => StoredFile.Digest(p.Bytes));
        return new(
            log.Id,
            log.EndedAt ?? log.StartedAt,
            proven[0].Sha256,
            proven
                .Select(p => p.Sha256)
                .Order(StringComparer.Ordinal)
                .SequenceEqual(inUse.Order(StringComparer.Ordinal))
        );
    }

    /// <summary>One sentence for screen and paper.</summary>
    public string Words(TimeZoneInfo zone)
    {
        var at = TimeZoneInfo.ConvertTime(Released, zone).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
        return InUse
            ? $"This is the program as proven and released {at}."
            : $"NOT the program that was proven: what was released {at} is {SetupSheet.Grouped(Sha256)}.";
    }
}
