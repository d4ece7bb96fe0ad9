using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

/// <summary>
/// Changes what a job rests on: program, subprograms, setup, values of parameters. Where a prove-out is under way, the change goes into it
/// as an act, which opens again what rests on it.
/// </summary>
public sealed class ChangeJob(ShopWriter writer, JobReader jobs, ReviseProveOut revise, TimeProvider time)
{
    internal async Task<Refusal?> Run(Actor by, Place place, Guid id, long version, JobChange change)
    {
        if (!Policies.Allows(Policies.MakesJobs, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Jobs are changed by programmers, setters and supervisors.");
        if (await jobs.Open(id) is not { } before)
            return new Refusal(RefusedBecause.NotThere, Said.In("There is no such job."));
        if (before.Job.Version != version)
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                Said.In("The job was changed by somebody else meanwhile. Look again.")
            );
        try
        {
            var after = await jobs.Check(change.Applied(before));
            if (MakeJob.WhyNotOn(before.Machine, after.Setup) is { } wrong)
                return new Refusal(RefusedBecause.NotAcceptable, wrong);
            var revision = await Revision.WorkOut(before, after);
            return await writer.Write(db => Store(db, by, place, revision, change));
        }
        catch (InputFault fault)
        {
            return new Refusal(RefusedBecause.NotAcceptable, Said.Again(fault.Message));
        }
    }

    async Task<Refusal?> Store(HandwheelDb db, Actor by, Place place, Revision revision, JobChange change)
    {
        var after = revision.After;
        var job = await db.Jobs.Include(j => j.Files).Include(j => j.Parameters).SingleAsync(j => j.Id == after.Job.Id);
        if (job.Version != after.Job.Version)
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                Said.In("The job was changed by somebody else meanwhile. Look again.")
            );
        var now = time.GetUtcNow();
        if (await Tell(db, by, place, revision, change, change.Reason(revision.Before)) is { } refused)
            return refused;
        switch (change)
        {
            case FileChange file:
                await Keep(db, job, file, by, now);
                break;
            case SubprogramChange subprograms:
                await Keep(db, job, subprograms, by, now);
                break;
            case ParameterChange parameter:
                Keep(job, parameter, by, now);
                break;
        }
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

    static async Task Keep(HandwheelDb db, Job job, FileChange change, Actor by, DateTimeOffset now)
    {
        await MakeJob.Replace(db, job, change.Kind, change.File, by, now);
        if (change.Kind == JobFileKind.Setup)
            job.SetupIsDraft = job.SetupIsDraft && !change.Complete;
    }

    static async Task Keep(HandwheelDb db, Job job, SubprogramChange change, Actor by, DateTimeOffset now)
    {
        var gone = change.Gone;
        foreach (var old in job.Files.Where(f => f.Kind == JobFileKind.Subprogram && f.ReplacedAt is null))
            if (gone.Contains(old.Name))
                old.ReplacedAt = now;
        foreach (var file in change.Added)
            await MakeJob.Add(db, job, JobFileKind.Subprogram, file, by, now);
    }

    static void Keep(Job job, ParameterChange change, Actor by, DateTimeOffset now)
    {
        foreach (var old in job.Parameters.Where(p => p.Number == change.Number && p.ReplacedAt is null))
            old.ReplacedAt = now;
        if (change.Typed.Length > 0)
            job.Parameters.Add(
                new JobParameter
                {
                    JobId = job.Id,
                    Number = change.Number,
                    Typed = change.Typed,
                    From = change.From,
                    SaidAt = now,
                    SaidBy = by.Person,
                }
            );
    }

    async Task<Refusal?> Tell(HandwheelDb db, Actor by, Place place, Revision revision, JobChange change, string reason)
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
        var told = await revise.Store(
            db,
            log,
            revision,
            plan =>
                change.OfProgram
                    ? new ProgramChanged(plan, reason, revision.Compared)
                    : new SetupChanged(plan, reason, revision.Compared),
            by,
            place
        );
        return told.Refused;
    }
}
