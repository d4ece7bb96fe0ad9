using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

/// <summary>
/// Puts another program or setup in the place of the one in use. Where a prove-out is under way, the change goes into it as an
/// act, which opens again what rests on it.
/// </summary>
public sealed class ReplaceJobFile(
    ShopWriter writer,
    JobReader jobs,
    ProveOutReader proveOuts,
    AppendEntry append,
    TimeProvider time
)
{
    /// <param name="Why">Goes into the record where a prove-out is under way.</param>
    /// <param name="Complete">The setup is no draft any more.</param>
    internal sealed record Change(JobFileKind Kind, Upload File, string Why, bool Complete);

    internal async Task<Refusal?> Run(Actor by, Place place, Guid id, long version, Change change)
    {
        if (!Policies.Allows(Policies.MakesJobs, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Jobs are changed by programmers, setters and supervisors.");
        if (await jobs.Open(id) is not { } before)
            return new Refusal(RefusedBecause.NotThere, "There is no such job.");
        if (before.Job.Version != version)
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                "The job was changed by somebody else meanwhile. Look again."
            );
        try
        {
            var after = await With(before, change);
            if (MakeJob.WhyNotOn(before.Machine, after.Setup) is { } wrong)
                return new Refusal(RefusedBecause.NotAcceptable, wrong);
            return await writer.Write(db => Store(db, by, place, after, change));
        }
        catch (InputFault fault)
        {
            return new Refusal(RefusedBecause.NotAcceptable, fault.Message);
        }
    }

    async Task<OpenedJob> With(OpenedJob job, Change change)
    {
        var program = change.Kind == JobFileKind.Program ? change.File : job.Program;
        var file = change.Kind == JobFileKind.Setup ? change.File : job.SetupFile;
        var setup = SetupFile.Read(file.Bytes, file.Name);
        var check = await jobs.Check(program, job.Subprograms, file, setup);
        return job with { Program = program, SetupFile = file, Setup = setup, Check = check };
    }

    async Task<Refusal?> Store(HandwheelDb db, Actor by, Place place, OpenedJob after, Change change)
    {
        var job = await db.Jobs.Include(j => j.Files).SingleAsync(j => j.Id == after.Job.Id);
        if (job.Version != after.Job.Version)
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                "The job was changed by somebody else meanwhile. Look again."
            );
        var now = time.GetUtcNow();
        if (await Tell(db, by, place, after, change, now) is { } refused)
            return refused;
        foreach (var old in job.Files.Where(f => f.Kind == change.Kind && f.ReplacedAt is null))
            old.ReplacedAt = now;
        await MakeJob.Add(db, job, change.Kind, change.File, by, now);
        if (change.Kind == JobFileKind.Setup)
            job.SetupIsDraft = job.SetupIsDraft && !change.Complete;
        (job.Part, job.Operation, job.Revision) = (
            after.Setup.Job.Part,
            after.Setup.Job.Operation,
            after.Setup.Job.Revision
        );
        db.Entry(job).State = EntityState.Modified;
        db.News.Add(new News(job.MachineId, job.Id));
        await db.SaveChangesAsync();
        return null;
    }

    async Task<Refusal?> Tell(HandwheelDb db, Actor by, Place place, OpenedJob after, Change change, DateTimeOffset now)
    {
        var log = await db.ProveOuts.SingleOrDefaultAsync(p => p.JobId == after.Job.Id && p.End == ProveOutEnd.Open);
        if (log is null)
            return null;
        if (change.Why.Trim().Length == 0)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                "A prove-out of this job is under way: say why it changes."
            );
        var plan = PlanOfJob.Revise(await proveOuts.Plan(db, log.PlanSha256), after);
        log.PlanSha256 = await db.Keep(PlanJson.Write(plan), now);
        await db.Keep(PlanOfJob.CheckText(after.Check), now);
        var entries = await ProveOutReader.Entries(db, log.Id);
        var before = ProveOut.Replay(plan, entries, await ProveOutReader.LedgerOf(db, log.MachineId));
        Act act =
            change.Kind == JobFileKind.Program
                ? new ProgramChanged(plan.Digest, change.Why.Trim())
                : new SetupChanged(plan.Digest, change.Why.Trim());
        return append.To(db, log, before, act, by, place.Name, before.Last).Refused;
    }
}
