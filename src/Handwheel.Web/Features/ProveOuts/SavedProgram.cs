using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>
/// The program as the control saved it: compared with the one that was checked, or after an edit in the place of the one in use, under
/// that one's name.
/// </summary>
public sealed class SavedProgram(
    ReceiveProgram receive,
    JobReader jobs,
    ProveOutReader reader,
    IDbContextFactory<HandwheelDb> databases
)
{
    /// <summary>What is recorded of a saved program at a step: its digest, and where it is first not the checked one.</summary>
    public async Task<SavedProgramCompared> Compared(Guid proveOut, string step, byte[] program)
    {
        var act = new SavedProgramCompared(step, ProgramInControl.ComparableDigest(program));
        await using var db = await databases.CreateDbContextAsync();
        if (await reader.Open(db, proveOut) is not { } open)
            return act;
        var with = open.ProveOut.ComparedWith(step, act.ComparableSha256);
        var file = await db.Files.AsNoTracking().SingleAsync(f => f.Sha256 == with.Sha256);
        return act with { Differs = ProgramInControl.FirstDifference(file.Content, program) };
    }

    public async Task<Refusal?> Run(Actor by, Place place, Guid proveOut, byte[] program, string why)
    {
        if (program.Length == 0)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In(
                    "No program came with this, or one larger than 256 MiB. Choose the file that the control wrote."
                )
            );
        await using var db = await databases.CreateDbContextAsync();
        var log = await db.ProveOuts.AsNoTracking().SingleOrDefaultAsync(p => p.Id == proveOut);
        if (log is null || await jobs.Open(log.JobId) is not { } job)
            return new Refusal(RefusedBecause.NotThere, Said.In("There is no such prove-out."));
        if (log.End is not ProveOutEnd.Open)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In("This prove-out has ended: its record stays as it is.")
            );
        if (ProgramInControl.ComparableDigest(program) == ProgramInControl.ComparableDigest(job.Program.Bytes))
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In("The saved program is the one that was checked: nothing was edited.")
            );
        return await receive.Run(by, place, log.JobId, job.Job.Version, new(job.Program.Name, program), why);
    }
}
