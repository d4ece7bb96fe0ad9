using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Templates;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>
/// Begins the prove-out of a job on its machine. One at a time on a machine; and not while a register there is not as it
/// should be.
/// </summary>
public sealed class StartProveOut(
    ShopWriter writer,
    JobReader jobs,
    ProveOutReader proveOuts,
    TemplateReader templates,
    AppendEntry append,
    IDbContextFactory<HandwheelDb> databases,
    TimeProvider time
)
{
    public async Task<Answer<ProveOutLog>> Run(Actor by, Place place, Guid job, Purpose purpose = Purpose.Prove)
    {
        if (!Policies.Allows(Policies.ProvesOut, by.Roles))
            return new Refusal(
                RefusedBecause.NotAllowed,
                Said.In("Proving out is for operators, setters and supervisors.")
            );
        if (await jobs.Open(job) is not { } opened)
            return new Refusal(RefusedBecause.NotThere, Said.In("There is no such job."));
        if (opened.Job.SetupIsDraft)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In("The setup is a draft: complete it, and say on the job's page that it is complete.")
            );
        ProvedBefore? before = null;
        if (purpose == Purpose.SetUpAgain)
        {
            await using var db = await databases.CreateDbContextAsync();
            var proven = await ProvenProgram.Of(db, proveOuts, opened);
            if (ProvenProgram.WhyNotAgain(proven, opened) is { } whole)
                return new Refusal(RefusedBecause.NotAcceptable, whole);
            before = proven!.Before;
        }
        var id = Guid.CreateVersion7(time.GetUtcNow());
        var plan = PlanOfJob.Make(opened, id, await templates.RulesFor(opened.Machine), before);
        return await writer.Write<Answer<ProveOutLog>>(db => Store(db, by, place, opened, plan));
    }

    async Task<Answer<ProveOutLog>> Store(HandwheelDb db, Actor by, Place place, OpenedJob opened, ProveOutPlan plan)
    {
        var job = await db.Jobs.SingleAsync(j => j.Id == opened.Job.Id);
        if (job.Version != opened.Job.Version)
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                Said.In("The job was changed by somebody else a moment ago. Look again.")
            );
        var busy = await db.ProveOuts.FirstOrDefaultAsync(p =>
            p.MachineId == job.MachineId && p.End == ProveOutEnd.Open
        );
        if (busy is not null)
        {
            var other = await db.Jobs.SingleAsync(j => j.Id == busy.JobId);
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                Said.In(
                    $"Job {other.Number} is being proved out on {opened.Machine.Name}. Release or abandon it first."
                )
            );
        }
        var now = time.GetUtcNow();
        var log = new ProveOutLog
        {
            Id = plan.Subject.ProveOut,
            JobId = job.Id,
            MachineId = job.MachineId,
            PlanSha256 = await db.Keep(PlanJson.Write(plan), now),
            StartedAt = now,
            StartedBy = by.Person,
            Zone = (await db.Shop()).Zone,
            LastHash = Convert.ToHexStringLower(RecordChain.Start),
        };
        await db.Keep(PlanOfJob.CheckText(opened.Check), now);
        var left = await ProveOutReader.LeftLockedOutOn(db, job.MachineId);
        db.ProveOuts.Add(log);
        var before = ProveOut.Replay(plan, [], await ProveOutReader.LedgerOf(db, job.MachineId));
        var begun = append.To(db, log, before, new Begun(plan.Digest, left?.What), by, place.Name, basedOn: 0);
        if (begun.Refused is { } refused)
            return refused;
        await db.SaveChangesAsync();
        return log;
    }
}
