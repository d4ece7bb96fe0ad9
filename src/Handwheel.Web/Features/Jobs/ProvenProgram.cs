using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Motions;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Sheets;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

/// <summary>The program that was released last with a job, or with the job it is set up again from, and whether it is the one in use.</summary>
/// <param name="Before">Where it was proved, and what this job's machine has otherwise.</param>
/// <param name="Plan">What was proved.</param>
/// <param name="Setup">With which setup.</param>
/// <param name="InUse">The programs now in use are those that were proven, byte for byte.</param>
public sealed record ProvenProgram(ProvedBefore Before, ProveOutPlan Plan, Setup Setup, bool InUse)
{
    public string Sha256 => Plan.Subject.Programs[0].Sha256;

    public static async Task<ProvenProgram?> Of(HandwheelDb db, ProveOutReader proveOuts, OpenedJob job)
    {
        if (await LastRelease(db, job.Job) is not { } log)
            return null;
        var plan = await proveOuts.Plan(db, log.PlanSha256);
        var file = await db.Files.AsNoTracking().SingleAsync(f => f.Sha256 == plan.Subject.SetupSha256);
        var setup = SetupFile.Read(file.Content, "the setup that was proved");
        var number = await db.Jobs.Where(j => j.Id == log.JobId).Select(j => j.Number).SingleAsync();
        return new(
            new(
                log.Id,
                plan.MachineName,
                "job " + number.ToString(CultureInfo.InvariantCulture),
                log.EndedAt ?? log.StartedAt,
                MachineComparison.Of(setup, job.Setup)
            ),
            plan,
            setup,
            Same(plan, new[] { job.Program }.Concat(job.Subprograms).Select(p => StoredFile.Digest(p.Bytes)))
        );
    }

    /// <summary>Jobs whose programs in use are the proven ones, from the digests alone.</summary>
    /// <param name="jobs">With their files.</param>
    public static async Task<IReadOnlySet<Guid>> InUseOf(
        HandwheelDb db,
        ProveOutReader proveOuts,
        IEnumerable<Job> jobs
    )
    {
        var proven = new HashSet<Guid>();
        foreach (var job in jobs)
        {
            if (await LastRelease(db, job) is not { } log)
                continue;
            var inUse = job.Files.Where(f =>
                f.ReplacedAt is null && f.Kind is JobFileKind.Program or JobFileKind.Subprogram
            );
            if (Same(await proveOuts.Plan(db, log.PlanSha256), inUse.Select(f => f.Sha256)))
                proven.Add(job.Id);
        }
        return proven;
    }

    static async Task<ProveOutLog?> LastRelease(HandwheelDb db, Job job) =>
        await db
            .ProveOuts.AsNoTracking()
            .Where(p => p.JobId == job.Id && p.End == ProveOutEnd.Released)
            .OrderByDescending(p => p.EndedAt)
            .FirstOrDefaultAsync()
        ?? (
            job.ProvedIn is { } elsewhere
                ? await db
                    .ProveOuts.AsNoTracking()
                    .SingleOrDefaultAsync(p => p.Id == elsewhere && p.End == ProveOutEnd.Released)
                : null
        );

    static bool Same(ProveOutPlan plan, IEnumerable<string> inUse) =>
        plan
            .Subject.Programs.Select(p => p.Sha256)
            .Order(StringComparer.Ordinal)
            .SequenceEqual(inUse.Order(StringComparer.Ordinal));

    /// <summary>
    /// Why a job has to be proved out whole and the short list is not enough; null: it may be set up again. What the machine does counts
    /// as proved only where it is the same: the same program, read the same way.
    /// </summary>
    public static string? WhyNotAgain(ProvenProgram? proven, OpenedJob job)
    {
        if (proven is null)
            return Said.In("Nothing of this job was released yet: it is proved out, not set up again.");
        if (!proven.InUse)
            return Said.In("The program is not the one that was released: it is proved out whole.");
        if (
            !(proven.Plan.Subject.Assumed ?? []).SequenceEqual(
                job.Said.Select(v => new PlannedParameter(v.Number, v.Typed))
            )
        )
            return Said.In(
                "The control's parameters are taken to hold other values than when it was proved: it is proved out whole."
            );
        return proven.Before.Differences.Count == 0 ? null : ReadOtherwise(proven, job);
    }

    static string? ReadOtherwise(ProvenProgram proven, OpenedJob job)
    {
        var (there, here) = (proven.Setup.Machine, job.Setup.Machine);
        if (
            proven.Plan.Tools.Any(t => t.Compensated != false)
            && (
                there.Reads.CompensationEntry,
                there.Reads.CompensationCorners,
                there.Reads.CompensationInsideCorners,
                there.Reads.CompensationExit
            )
                != (
                    here.Reads.CompensationEntry,
                    here.Reads.CompensationCorners,
                    here.Reads.CompensationInsideCorners,
                    here.Reads.CompensationExit
                )
        )
            return Said.In(
                $"{job.Machine.Name} goes about cutter compensation otherwise than {proven.Before.Machine} did: it is proved out whole."
            );
        // Where the machine itself changes tools and has its reference is told to people; here it counts how the program is read.
        var read = ProgramMotion.Of(
            job.Followed with
            {
                Setup = job.Setup with
                {
                    Machine = here with
                    {
                        Travel = there.Travel,
                        ToolChangeZ = there.ToolChangeZ,
                        Reference = there.Reference,
                        SecondReference = there.SecondReference,
                    },
                },
            }
        );
        var proved = ProgramMotion.Of(job.Followed with { Setup = proven.Setup });
        if ((read.Unknown ?? proved.Unknown) is { } unknown)
            return Said.In(
                $"{job.Machine.Name} is not as {proven.Before.Machine} was when this was proved, and what the program does cannot be told ({unknown}): it is proved out whole."
            );
        var other = proved
            .Paths.Where(m => read.Paths.GetValueOrDefault(m.Key) != m.Value)
            .Select(m => "T" + m.Key.ToString(CultureInfo.InvariantCulture))
            .ToList();
        return other.Count == 0
            ? null
            : Said.In(
                $"Read as {job.Machine.Name} reads it, the program moves {string.Join(", ", other)} otherwise than it was proved on {proven.Before.Machine}: it is proved out whole."
            );
    }

    /// <summary>One sentence for screen and paper.</summary>
    public string Words(TimeZoneInfo zone)
    {
        var at = TimeZoneInfo
            .ConvertTime(Before.Released, zone)
            .ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
        return InUse
            ? Said.In($"This is the program as proven on {Before.Machine} and released {at}.")
            : Said.In($"NOT the program that was proven: what was released {at} is {SetupSheet.Grouped(Sha256)}.");
    }
}
