using System.Globalization;
using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Records;
using Handwheel.Web.Features.ProveOuts;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Records;

/// <summary>The signed record of a prove-out, <c>handwheel-record/1</c>, with every entry exactly as it was hashed.</summary>
public sealed class ExportRecord(
    IDbContextFactory<HandwheelDb> databases,
    ProveOutReader proveOuts,
    RecordKeys keys,
    TimeProvider time
)
{
    /// <summary>For people at a screen: a prove-out under way keeps what was typed to itself, since it is to be read blind again.</summary>
    public async Task<Answer<byte[]>> OfEnded(Guid proveOut) =>
        await StillOpen(proveOut) is { } refused ? refused : await Run(proveOut);

    /// <summary>Its entries as a table; like the record, only once it has ended.</summary>
    public async Task<Answer<byte[]>> TableOfEnded(Guid proveOut)
    {
        if (await StillOpen(proveOut) is { } refused)
            return refused;
        await using var db = await databases.CreateDbContextAsync();
        return await proveOuts.Open(db, proveOut) is { } open ? RecordCsv.Entries(open) : NotThere();
    }

    async Task<Refusal?> StillOpen(Guid proveOut)
    {
        await using var db = await databases.CreateDbContextAsync();
        var log = await db.ProveOuts.AsNoTracking().SingleOrDefaultAsync(p => p.Id == proveOut);
        return log is { End: ProveOutEnd.Open }
            ? new Refusal(
                RefusedBecause.NotAcceptable,
                "This prove-out is still open, and its record holds readings that are to be typed blind. Take the record when it is released or abandoned."
            )
            : null;
    }

    static Refusal NotThere() => new(RefusedBecause.NotThere, "There is no such prove-out.");

    public async Task<Answer<byte[]>> Run(Guid proveOut)
    {
        await using var db = await databases.CreateDbContextAsync();
        if (await proveOuts.Open(db, proveOut) is not { } open)
            return NotThere();
        var bodies = await db
            .ProveOutEntries.AsNoTracking()
            .Where(e => e.ProveOutId == proveOut)
            .OrderBy(e => e.Number)
            .Select(e => e.Body)
            .ToListAsync();
        var about = new RecordOf(
            (await db.Shop()).ShopName,
            open.Job.Number.ToString(CultureInfo.InvariantCulture),
            open.Job.Part,
            open.Job.Operation,
            open.Job.Revision,
            SummaryOf(open)
        );
        return RecordDocument.Make(
            open.ProveOut,
            [.. bodies.Select(Encoding.UTF8.GetBytes)],
            about,
            time.GetUtcNow(),
            await keys.Signer()
        );
    }

    static string SummaryOf(OpenedProveOut open)
    {
        var groups = open.ProveOut.Plan.Findings.GroupBy(f => f.Level).OrderByDescending(g => g.Key).ToList();
        return groups.Count == 0
            ? "nothing at level stop or check"
            : string.Join(
                "; ",
                groups.Select(g => $"{g.Key.ToString().ToLowerInvariant()}: {string.Join(", ", g.Select(f => f.Id))}")
            );
    }
}
