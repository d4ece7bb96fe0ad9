using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Jobs;

/// <summary>
/// Makes a job from a program and its setup file; or from a program alone: the setup is then begun from the machine's
/// facts and the program, and is a draft until somebody says that it is complete.
/// </summary>
public sealed class MakeJob(
    ShopWriter writer,
    JobReader jobs,
    IDbContextFactory<HandwheelDb> databases,
    TimeProvider time
)
{
    public async Task<Answer<Job>> Run(
        Actor by,
        Guid machine,
        Upload program,
        Upload? setup,
        IReadOnlyList<Upload> subprograms
    )
    {
        if (!Policies.Allows(Policies.MakesJobs, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Jobs are made by programmers, setters and supervisors.");
        if (await MachineOf(machine) is not { } on)
            return new Refusal(RefusedBecause.NotThere, "There is no such machine.");
        try
        {
            var file = setup ?? Draft(on, program, subprograms);
            var read = SetupFile.Read(file.Bytes, file.Name);
            if (WhyNotOn(on, read) is { } wrong)
                return new Refusal(RefusedBecause.NotAcceptable, wrong);
            await jobs.Check(program, subprograms, [], file, read);
            return await writer.Write<Answer<Job>>(db =>
                Store(db, by, on, program, file, subprograms, read, setup is null)
            );
        }
        catch (InputFault fault)
        {
            return new Refusal(RefusedBecause.NotAcceptable, fault.Message);
        }
    }

    async Task<Machine?> MachineOf(Guid id)
    {
        await using var db = await databases.CreateDbContextAsync();
        return await db.Machines.AsNoTracking().SingleOrDefaultAsync(m => m.Id == id && !m.Retired);
    }

    /// <summary>What machine and program tell, in the machine's units; the rest is filled in by people.</summary>
    static Upload Draft(Machine machine, Upload program, IReadOnlyList<Upload> subprograms)
    {
        var facts = SetupFile.Read(Encoding.UTF8.GetBytes(machine.Facts), "the facts of " + machine.Name);
        var files = new Subprograms(subprograms);
        var options = new RunOptions { Subprogram = called => files.Find(called)?.Bytes };
        var begun = SetupFromProgram.Draft(program.Bytes, facts.Machine, facts.Units, options).Setup;
        var draft = facts with { WorkOffsets = begun.WorkOffsets, Tools = begun.Tools };
        return new("setup.json", SetupFile.Write(draft));
    }

    internal static string? WhyNotOn(Machine machine, Setup setup) =>
        setup.Machine.Name.Length == 0 || setup.Machine.Name.Equals(machine.Name, StringComparison.OrdinalIgnoreCase)
            ? null
            : $"This setup is for {setup.Machine.Name}, not for {machine.Name}. Choose that machine, or put the name in the setup right.";

    /// <param name="provedIn">See <see cref="Job.ProvedIn"/>.</param>
    internal async Task<Answer<Job>> Store(
        HandwheelDb db,
        Actor by,
        Machine machine,
        Upload program,
        Upload setup,
        IReadOnlyList<Upload> subprograms,
        Setup read,
        bool draft,
        Guid? provedIn = null
    )
    {
        var now = time.GetUtcNow();
        var job = new Job
        {
            Number = 1 + (await db.Jobs.MaxAsync(j => (int?)j.Number) ?? 0),
            MachineId = machine.Id,
            Part = read.Job.Part,
            Operation = read.Job.Operation,
            Revision = read.Job.Revision,
            SetupIsDraft = draft,
            ProvedIn = provedIn,
            MadeAt = now,
            MadeBy = by.Person,
        };
        await Add(db, job, JobFileKind.Program, program, by, now);
        await Add(db, job, JobFileKind.Setup, setup, by, now);
        foreach (var subprogram in subprograms)
            await Add(db, job, JobFileKind.Subprogram, subprogram, by, now);
        db.Jobs.Add(job);
        db.News.Add(new News(machine.Id, job.Id));
        await db.SaveChangesAsync();
        return job;
    }

    /// <summary>The file takes the place of the one in use, which stays kept; of subprograms, of the one with its name.</summary>
    internal static Task Replace(HandwheelDb db, Job job, JobFileKind kind, Upload file, Actor by, DateTimeOffset at)
    {
        foreach (var old in job.Files.Where(f => f.Kind == kind && f.ReplacedAt is null))
            if (kind != JobFileKind.Subprogram || old.Name == file.Name)
                old.ReplacedAt = at;
        return Add(db, job, kind, file, by, at);
    }

    internal static async Task Add(
        HandwheelDb db,
        Job job,
        JobFileKind kind,
        Upload file,
        Actor by,
        DateTimeOffset at
    ) =>
        job.Files.Add(
            new JobFile
            {
                JobId = job.Id,
                Kind = kind,
                Name = file.Name,
                Sha256 = await db.Keep(file.Bytes, at),
                AddedAt = at,
                AddedBy = by.Person,
            }
        );
}
