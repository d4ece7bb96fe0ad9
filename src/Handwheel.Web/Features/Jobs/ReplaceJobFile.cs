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
public sealed class ReplaceJobFile(ShopWriter writer, JobReader jobs, ReviseProveOut revise, TimeProvider time)
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
            var revision = await Revision.WorkOut(before, after);
            return await writer.Write(db => Store(db, by, place, revision, change));
        }
        catch (InputFault fault)
        {
            return new Refusal(RefusedBecause.NotAcceptable, fault.Message);
        }
    }

    Task<OpenedJob> With(OpenedJob job, Change change) =>
        jobs.Check(
            change.Kind == JobFileKind.Setup ? job with { SetupFile = change.File } : job with { Program = change.File }
        );

    async Task<Refusal?> Store(HandwheelDb db, Actor by, Place place, Revision revision, Change change)
    {
        var after = revision.After;
        var job = await db.Jobs.Include(j => j.Files).SingleAsync(j => j.Id == after.Job.Id);
        if (job.Version != after.Job.Version)
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                "The job was changed by somebody else meanwhile. Look again."
            );
        var now = time.GetUtcNow();
        if (await Tell(db, by, place, revision, change) is { } refused)
            return refused;
        await MakeJob.Replace(db, job, change.Kind, change.File, by, now);
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

    async Task<Refusal?> Tell(HandwheelDb db, Actor by, Place place, Revision revision, Change change)
    {
        var log = await db.ProveOuts.SingleOrDefaultAsync(p =>
            p.JobId == revision.After.Job.Id && p.End == ProveOutEnd.Open
        );
        if (log is null)
            return null;
        if (change.Why.Trim().Length == 0)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                "A prove-out of this job is under way: say why it changes."
            );
        var why = change.Why.Trim();
        var told = await revise.Store(
            db,
            log,
            revision,
            plan =>
                change.Kind == JobFileKind.Program
                    ? new ProgramChanged(plan, why, revision.Compared)
                    : new SetupChanged(plan, why, revision.Compared),
            by,
            place
        );
        return told.Refused;
    }
}
