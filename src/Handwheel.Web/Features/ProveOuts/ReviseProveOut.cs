using Handwheel.Data;
using Handwheel.Jobs.Motions;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>A job before and after a change of its files, with what the machine would do differently. Worked out before anything is stored.</summary>
public sealed record Revision(OpenedJob Before, OpenedJob After, IReadOnlyList<ToolCompared> Compared)
{
    public static Task<Revision> WorkOut(OpenedJob before, OpenedJob after) =>
        Task.Run(() => new Revision(before, after, MotionComparison.Of(before.Followed, after.Followed)));
}

/// <summary>Moves a prove-out under way to the plan of changed files: the plan, its check and the act that says why. Saved by the caller.</summary>
public sealed class ReviseProveOut(ProveOutReader proveOuts, AppendEntry append, TimeProvider time)
{
    /// <param name="act">The act that brings the change, from the digest of the new plan.</param>
    /// <param name="basedOn">Number of the last entry that the person's page had shown; null: the newest.</param>
    public async Task<Answer<AppendEntry.Appended>> Store(
        HandwheelDb db,
        ProveOutLog log,
        Revision revision,
        Func<string, Act> act,
        Actor by,
        Place place,
        long? basedOn = null,
        KeptOnTablet? kept = null
    )
    {
        var now = time.GetUtcNow();
        var plan = PlanOfJob.Revise(await proveOuts.Plan(db, log.PlanSha256), revision.After);
        log.PlanSha256 = await db.Keep(PlanJson.Write(plan), now);
        await db.Keep(PlanOfJob.CheckText(revision.After.Check), now);
        var entries = await ProveOutReader.Entries(db, log.Id);
        var before = ProveOut.Replay(plan, entries, await ProveOutReader.LedgerOf(db, log.MachineId));
        return append.To(db, log, before, act(plan.Digest), by, place.Name, basedOn ?? before.Last, kept);
    }
}
