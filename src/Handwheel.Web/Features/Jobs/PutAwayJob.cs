using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

/// <summary>Takes a job off the list of open jobs, or puts it back. Its files and records stay.</summary>
public sealed class PutAwayJob(ShopWriter writer)
{
    public async Task<Refusal?> Run(Actor by, Guid id, bool away)
    {
        if (!Policies.Allows(Policies.MakesJobs, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Jobs are changed by programmers, setters and supervisors.");
        return await writer.Write(async db =>
        {
            var job = await db.Jobs.SingleOrDefaultAsync(j => j.Id == id);
            if (job is null)
                return new Refusal(RefusedBecause.NotThere, "There is no such job.");
            if (away && await db.ProveOuts.AnyAsync(p => p.JobId == id && p.End == ProveOutEnd.Open))
                return new Refusal(RefusedBecause.NotAcceptable, "A prove-out of this job is under way.");
            job.PutAway = away;
            db.News.Add(new News(job.MachineId, id));
            await db.SaveChangesAsync();
            return null;
        });
    }
}
