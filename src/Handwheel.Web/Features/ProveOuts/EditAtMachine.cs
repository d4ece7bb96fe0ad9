using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Jobs;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>
/// An edit made at the machine goes into the program itself: the program as edited is checked, compared tool by tool with the
/// one before, and is from then on the one that is proved and released.
/// </summary>
public sealed class EditAtMachine(
    JobReader jobs,
    ProveOutReader proveOuts,
    ReviseProveOut revise,
    IDbContextFactory<HandwheelDb> databases,
    TimeProvider time
)
{
    /// <summary>What an edit means, before it is stored.</summary>
    public sealed record WorkedOut(EditNoted Edit, Revision Revision, JobFileKind Kind, Upload File);

    /// <summary>The program as edited and what it changes; a refusal says which line it is not.</summary>
    public async Task<Answer<WorkedOut>> WorkOut(Guid proveOut, EditNoted edit, Actor by)
    {
        await using var db = await databases.CreateDbContextAsync();
        if (await proveOuts.Open(db, proveOut) is not { } open)
            return new Refusal(RefusedBecause.NotThere, Said.In("There is no such prove-out."));
        if (open.ProveOut.WhyNot(edit, by) is { Count: > 0 } reasons)
            return new Refusal(RefusedBecause.NotAcceptable, reasons);
        var job = (await jobs.Open(open.Job.Id))!;
        if (Edited(job, edit, out var refusal) is not { } edited)
            return new Refusal(RefusedBecause.NotAcceptable, refusal!);
        try
        {
            var after = await jobs.Check(
                edited.Kind == JobFileKind.Program
                    ? job with
                    {
                        Program = edited.File,
                    }
                    : job with
                    {
                        Subprograms = [.. job.Subprograms.Select(s => s.Name == edited.File.Name ? edited.File : s)],
                    }
            );
            var name = edited.Kind == JobFileKind.Program ? null : edited.File.Name;
            return new WorkedOut(
                edit with
                {
                    Program = name,
                },
                await Revision.WorkOut(job, after),
                edited.Kind,
                edited.File
            );
        }
        catch (InputFault fault)
        {
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In("As edited it is no program: ") + Said.Again(fault.Message)
            );
        }
    }

    /// <summary>In the main program, or else in the one subprogram that has the block in that line.</summary>
    static (JobFileKind Kind, Upload File)? Edited(OpenedJob job, EditNoted edit, out string? refusal)
    {
        if (Applied(job.Program, edit, out refusal) is { } main)
            return (JobFileKind.Program, main);
        var subprograms = job.Subprograms.Select(s => Applied(s, edit, out _)).OfType<Upload>().ToList();
        return subprograms is [var one] ? (JobFileKind.Subprogram, one) : null;
    }

    static Upload? Applied(Upload file, EditNoted edit, out string? refusal) =>
        ProgramEdit.Apply(file.Bytes, edit.Line, edit.Old, edit.New, out refusal) is { } bytes
            ? new Upload(file.Name, bytes)
            : null;

    /// <summary>Entry, plan and the program as edited, saved by the caller.</summary>
    internal async Task<Answer<AppendEntry.Appended>> Store(
        HandwheelDb db,
        ProveOutLog log,
        WorkedOut worked,
        ActAsked asked
    )
    {
        var job = await db.Jobs.Include(j => j.Files).SingleAsync(j => j.Id == log.JobId);
        if (job.Version != worked.Revision.Before.Job.Version)
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                Said.In("Program or setup were changed by somebody else a moment ago: look, then write the edit again.")
            );
        var told = await revise.Store(
            db,
            log,
            worked.Revision,
            plan => worked.Edit with { Plan = plan, Compared = worked.Revision.Compared },
            asked.By,
            asked.Place,
            asked.BasedOn,
            asked.Kept
        );
        if (told.Refused is not null)
            return told;
        await MakeJob.Replace(db, job, worked.Kind, worked.File, asked.By, time.GetUtcNow());
        db.Entry(job).State = EntityState.Modified;
        return told;
    }
}
