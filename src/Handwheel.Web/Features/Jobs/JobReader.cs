using System.Collections.Concurrent;
using Handwheel.Data;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Motions;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Features.Cutting;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Jobs;

/// <summary>A job with the files now in use and what the check says about them.</summary>
public sealed record OpenedJob(
    Job Job,
    Machine Machine,
    Upload Program,
    IReadOnlyList<Upload> Subprograms,
    Upload SetupFile,
    Setup Setup,
    CheckResult Check,
    IReadOnlyList<SaidValue> Said
)
{
    public string ProgramSha256 => Check.Program.Sha256;
    public string SetupSha256 => StoredFile.Digest(SetupFile.Bytes);

    /// <summary>The program with everything that it is followed with.</summary>
    public FollowedProgram Followed => new(Program.Name, Program.Bytes, Setup, JobReader.Options(Subprograms, Said));

    /// <summary>What the program is followed with, for pictures and drafts beside the check.</summary>
    public RunOptions RunOptions()
    {
        var files = new Subprograms(Subprograms);
        return new() { Subprogram = called => files.Find(called)?.Bytes, Parameters = SaidValue.ForRun(Said) };
    }
}

/// <summary>Loads jobs and checks their programs. A check rests on the files' bytes and the cutting table alone, so its result is kept by their digests.</summary>
public sealed class JobReader(IDbContextFactory<HandwheelDb> databases, CuttingTableReader tables)
{
    const int ChecksKept = 50;
    readonly ConcurrentDictionary<string, int> stops = new(StringComparer.Ordinal);
    readonly ConcurrentDictionary<string, Lazy<Task<CheckResult>>> checks = new(StringComparer.Ordinal);

    /// <summary>By the number that people and addresses name it with.</summary>
    public async Task<OpenedJob?> OpenNumber(int number)
    {
        await using var db = await databases.CreateDbContextAsync();
        var id = await db.Jobs.Where(j => j.Number == number).Select(j => (Guid?)j.Id).SingleOrDefaultAsync();
        return id is { } job ? await Open(job) : null;
    }

    public async Task<OpenedJob?> Open(Guid id)
    {
        await using var db = await databases.CreateDbContextAsync();
        var job = await db
            .Jobs.AsNoTracking()
            .Include(j => j.Files)
            .Include(j => j.Parameters)
            .AsSplitQuery()
            .SingleOrDefaultAsync(j => j.Id == id);
        if (job is null)
            return null;
        var machine = await db.Machines.AsNoTracking().SingleAsync(m => m.Id == job.MachineId);
        var program = await InUse(db, job, JobFileKind.Program);
        var setup = (await InUse(db, job, JobFileKind.Setup))[0];
        var subprograms = await InUse(db, job, JobFileKind.Subprogram);
        var read = SetupFile.Read(setup.Bytes, setup.Name);
        var said = await Said(db, job);
        var check = await Check(program[0], subprograms, said, setup, read);
        return new(job, machine, program[0], subprograms, setup, read, check, said);
    }

    static async Task<List<SaidValue>> Said(HandwheelDb db, Job job)
    {
        var said = new List<SaidValue>();
        foreach (var value in job.Parameters.Where(p => p.ReplacedAt is null).OrderBy(p => p.Number))
        {
            var by = await db.People.AsNoTracking().SingleAsync(p => p.Id == value.SaidBy);
            said.Add(new(value.Number, value.Typed, value.From, by.Name, value.SaidAt));
        }
        return said;
    }

    /// <summary>How many findings at level stop a job has. <paramref name="job"/> comes with its files.</summary>
    public async Task<int> StopsOf(Job job)
    {
        var inUse = job.Files.Where(f => f.ReplacedAt is null).Select(f => $"{f.Name} {f.Sha256}");
        var key = $"{job.Id} {job.Version} {string.Join(' ', inUse.Order(StringComparer.Ordinal))}";
        if (stops.TryGetValue(key, out var known))
            return known;
        if (stops.Count > ChecksKept)
            stops.Clear();
        var open = await Open(job.Id);
        return stops[key] = open?.Check.Findings.Count(f => f.Level is Level.Stop) ?? 0;
    }

    static async Task<List<Upload>> InUse(HandwheelDb db, Job job, JobFileKind kind)
    {
        var uploads = new List<Upload>();
        foreach (
            var file in job
                .Files.Where(f => f.Kind == kind && f.ReplacedAt is null)
                .OrderBy(f => f.Name, StringComparer.Ordinal)
        )
        {
            var stored = await db.Files.AsNoTracking().SingleAsync(f => f.Sha256 == file.Sha256);
            uploads.Add(new(file.Name, stored.Content));
        }
        return uploads;
    }

    /// <summary>The job with its setup read and its program checked anew from the files that it names.</summary>
    /// <exception cref="InputFault">The program or the setup is not one.</exception>
    internal async Task<OpenedJob> Check(OpenedJob job)
    {
        var setup = SetupFile.Read(job.SetupFile.Bytes, job.SetupFile.Name);
        var check = await Check(job.Program, job.Subprograms, job.Said, job.SetupFile, setup);
        return job with { Setup = setup, Check = check };
    }

    /// <exception cref="InputFault">The program is not one.</exception>
    public async Task<CheckResult> Check(
        Upload program,
        IReadOnlyList<Upload> subprograms,
        IReadOnlyList<SaidValue> said,
        Upload setupFile,
        Setup setup
    )
    {
        var (table, _) = await tables.InForce();
        var files = new[] { program, setupFile }.Concat(subprograms);
        var values = said.Select(v => $"{v.Name}={v.Typed}").Append(table.Sha256);
        var key = string.Join(' ', files.Select(f => f.Name + ' ' + StoredFile.Digest(f.Bytes)).Concat(values));
        if (checks.Count > ChecksKept)
            checks.Clear();
        var check = checks.GetOrAdd(key, _ => new(() => Task.Run(() => Run(program, subprograms, said, setup, table))));
        try
        {
            return await check.Value;
        }
        catch
        {
            checks.TryRemove(key, out _);
            throw;
        }
    }

    static CheckResult Run(
        Upload program,
        IReadOnlyList<Upload> subprograms,
        IReadOnlyList<SaidValue> said,
        Setup setup,
        CuttingTable table
    ) =>
        Handwheel.Jobs.Checking.Check.Run(
            program.Bytes,
            program.Name,
            setup,
            Options(subprograms, said) with
            {
                CuttingTable = table,
            }
        );

    /// <summary>How the programs of a job are followed: the same for the check and for the comparison of revisions.</summary>
    internal static CheckOptions Options(IReadOnlyList<Upload> subprograms, IReadOnlyList<SaidValue> said) =>
        new() { Subprogram = new Subprograms(subprograms).Find, Parameters = SaidValue.ForRun(said) };
}
