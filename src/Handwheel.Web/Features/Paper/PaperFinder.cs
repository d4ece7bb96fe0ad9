using System.Globalization;
using Handwheel.Data;
using Handwheel.Web.Features.Floor;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Paper;

/// <summary>A job that paper belongs to.</summary>
/// <param name="Current">The paper shows what is in use now.</param>
/// <param name="Says">In words: current, or what has changed since it was printed.</param>
public sealed record PaperOf(Guid JobId, bool Current, IReadOnlyList<string> Says);

/// <summary>Finds what paper belongs to by the digests that were printed. It reads only.</summary>
public sealed class PaperFinder(IDbContextFactory<HandwheelDb> databases, TimeProvider time)
{
    /// <returns>Empty: nothing here has these digits; <paramref name="why"/> says so in words.</returns>
    public async Task<(IReadOnlyList<PaperOf> Found, string Why)> Find(PaperCode code)
    {
        await using var db = await databases.CreateDbContextAsync();
        var clock = await ShopClock.Of(db, time);
        return code switch
        {
            PaperCode.Sheet sheet => await Sheet(db, clock, sheet),
            PaperCode.Log log => await Log(db, log.ProveOut, log.Entry, log.Head),
            PaperCode.Digits digits => await Digits(db, clock, digits.First),
            PaperCode.NotOurs not => ([], not.Why),
            _ => throw new ArgumentOutOfRangeException(nameof(code), code, null),
        };
    }

    static async Task<(IReadOnlyList<PaperOf>, string)> Sheet(HandwheelDb db, ShopClock clock, PaperCode.Sheet sheet)
    {
        var jobs = await JobsWith(db, sheet.Program.Length > 0 ? sheet.Program : null, sheet.Job);
        if (jobs.Count == 0)
            return (
                [],
                sheet.Job is null ? Said.In("No job of this shop has had the program that it names.")
                : sheet.Program.Length > 0
                    ? Said.In(
                        "The job that it names has never had the program that it names. The code was altered, or it is of another shop."
                    )
                : Said.In("This shop has no job of that number.")
            );
        if (sheet.Program.Length == 0)
            return (
                [
                    .. jobs.Select(j => new PaperOf(
                        j.Id,
                        false,
                        [
                            Said.In(
                                "The code does not say from which program the sheet was printed: compare the digits at its foot with those here."
                            ),
                        ]
                    )),
                ],
                ""
            );
        var setups = jobs.Where(j => j.Files.Exists(f => Has(f, JobFileKind.Setup, sheet.Setup))).ToList();
        return setups.Count == 0
            ? (
                [],
                Said.In(
                    "The program is known here, the setup that it names is not. The code was altered, or the sheet was printed from files that were never in this shop."
                )
            )
            : ([.. setups.Select(j => Compared(j, clock, sheet.Program, sheet.Setup))], "");
    }

    static async Task<List<Job>> JobsWith(HandwheelDb db, string? program, int? number)
    {
        var jobs = db.Jobs.AsNoTracking().Include(j => j.Files).AsQueryable();
        if (number is { } known)
            jobs = jobs.Where(j => j.Number == known);
        if (program is not null)
            jobs = jobs.Where(j =>
                j.Files.Any(f => f.Kind == JobFileKind.Program && EF.Functions.Like(f.Sha256, program + "%"))
            );
        return await jobs.OrderBy(j => j.Number).Take(20).ToListAsync();
    }

    static bool Has(JobFile file, JobFileKind kind, string digits) =>
        file.Kind == kind && file.Sha256.StartsWith(digits, StringComparison.Ordinal);

    static PaperOf Compared(Job job, ShopClock clock, string program, string setup)
    {
        var changes = new List<string>();
        Changed(JobFileKind.Program, program);
        Changed(JobFileKind.Setup, setup);
        return changes.Count == 0
            ? new(job.Id, true, [Said.In("This paper shows the program and the setup that are in use now.")])
            : new(job.Id, false, changes);

        void Changed(JobFileKind kind, string digits)
        {
            if (digits.Length == 0 || job.Files.Exists(f => Has(f, kind, digits) && f.ReplacedAt is null))
                return;
            var old = job.Files.Where(f => Has(f, kind, digits)).MaxBy(f => f.ReplacedAt);
            var since = old?.ReplacedAt is { } at ? clock.When(at) : Said.In("since");
            changes.Add(
                kind is JobFileKind.Program
                    ? Said.In(
                        $"This paper is out of date: the program that it shows was replaced {since}. Print it again, and take this one away from the machine."
                    )
                    : Said.In(
                        $"This paper is out of date: the setup that it shows was replaced {since}. Print it again, and take this one away from the machine."
                    )
            );
        }
    }

    static async Task<(IReadOnlyList<PaperOf>, string)> Log(HandwheelDb db, Guid proveOut, long entry, string head)
    {
        var log = await db.ProveOuts.AsNoTracking().SingleOrDefaultAsync(p => p.Id == proveOut);
        if (log is null)
            return ([], Said.In("This shop has no prove-out of that name."));
        var hash = await db
            .ProveOutEntries.Where(e => e.ProveOutId == proveOut && e.Number == entry)
            .Select(e => e.Hash)
            .SingleOrDefaultAsync();
        if (hash?.StartsWith(head, StringComparison.Ordinal) is not true)
            return (
                [],
                Said.In(
                    "The prove-out is known here, but its entries do not have the head that the paper names. The code was altered, or the paper is of another list of entries: show it to a supervisor."
                )
            );
        var since = log.LastNumber - entry;
        return (
            [
                new(
                    log.JobId,
                    since == 0,
                    [
                        since == 0
                            ? Said.In("This paper shows the prove-out as it stands now.")
                            : Said.In(
                                $"This paper is out of date: it was printed after entry {entry}, and {since} more were written since."
                            ),
                    ]
                ),
            ],
            ""
        );
    }

    static async Task<(IReadOnlyList<PaperOf>, string)> Digits(HandwheelDb db, ShopClock clock, string digits)
    {
        var byFile = await db
            .Jobs.AsNoTracking()
            .Include(j => j.Files)
            .Where(j =>
                j.Files.Any(f =>
                    (f.Kind == JobFileKind.Program || f.Kind == JobFileKind.Setup)
                    && EF.Functions.Like(f.Sha256, digits + "%")
                )
            )
            .OrderBy(j => j.Number)
            .Take(20)
            .ToListAsync();
        if (byFile.Count > 0)
            return (
                [
                    .. byFile.Select(j =>
                        j.Files.Exists(f => Has(f, JobFileKind.Program, digits))
                            ? Compared(j, clock, digits, "")
                            : Compared(j, clock, "", digits)
                    ),
                ],
                ""
            );
        var entry = await db
            .ProveOutEntries.AsNoTracking()
            .Where(e => EF.Functions.Like(e.Hash, digits + "%"))
            .Select(e => new { e.ProveOutId, e.Number })
            .FirstOrDefaultAsync();
        return entry is null
            ? (
                [],
                Said.In(
                    "Nothing in this shop has these digits. Read them again at the foot of the page: twelve, in groups of four, digits and the letters A to F."
                )
            )
            : await Log(db, entry.ProveOutId, entry.Number, digits);
    }
}
