using System.Globalization;
using Handwheel.Data;

namespace Handwheel.Web.Features.Records;

/// <summary>Which records are wanted, and in which order: the list on the page and its table for a spreadsheet are the same rows.</summary>
/// <param name="Search">Found anywhere in job, part, operation, machine, program, digest, people or head; case does not matter.</param>
/// <param name="From">First day, in the shop's zone, on which a prove-out was begun.</param>
/// <param name="To">Last such day.</param>
/// <param name="By">A column of <see cref="Columns"/>; anything else is the day begun.</param>
public sealed record RecordsAsked(
    string? Search = null,
    DateOnly? From = null,
    DateOnly? To = null,
    ProveOutEnd? Stands = null,
    string By = "begun",
    bool Descending = true
)
{
    /// <summary>What each column sorts by.</summary>
    public static readonly IReadOnlyDictionary<string, Func<RecordRow, IComparable>> Columns = new Dictionary<
        string,
        Func<RecordRow, IComparable>
    >(StringComparer.Ordinal)
    {
        ["begun"] = r => r.StartedAt,
        ["job"] = r => r.JobNumber,
        ["part"] = r => Words(r.Part),
        ["machine"] = r => Words(r.Machine),
        ["program"] = r => Words(r.Program),
        ["people"] = r => Words(r.People),
        ["stands"] = r => (int)r.End,
        ["entries"] = r => r.Entries,
    };

    /// <summary>The rows that are wanted; equal ones newest first.</summary>
    public IReadOnlyList<RecordRow> Of(IEnumerable<RecordRow> rows, TimeZoneInfo zone)
    {
        var column = Columns.GetValueOrDefault(By) ?? Columns["begun"];
        var wanted = rows.Where(r => Wants(r, zone)).OrderByDescending(r => r.StartedAt);
        return [.. Descending ? wanted.OrderByDescending(column) : wanted.OrderBy(column)];
    }

    /// <summary>The same column again turns the order round; another one begins with its least, days with the newest.</summary>
    public RecordsAsked SortedBy(string column) =>
        this with
        {
            By = column,
            Descending = column == By ? !Descending : column == "begun",
        };

    /// <summary>As the query of an address.</summary>
    public string Query() =>
        QueryString
            .Create(
                new KeyValuePair<string, string?>[]
                {
                    new("search", Search?.Trim()),
                    new("from", Day(From)),
                    new("to", Day(To)),
                    new("stands", Stands?.ToString()),
                    new("by", By),
                    new("descending", Descending ? "true" : "false"),
                }.Where(p => !string.IsNullOrEmpty(p.Value))
            )
            .ToString();

    bool Wants(RecordRow row, TimeZoneInfo zone)
    {
        var day = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(row.StartedAt, zone).DateTime);
        return (Stands is null || row.End == Stands)
            && (From is null || day >= From)
            && (To is null || day <= To)
            && $"{row.JobNumber} {row.Part} {row.Operation} {row.Machine} {row.Program} {row.ProgramSha256} {row.People} {row.Head}".Contains(
                (Search ?? "").Trim(),
                StringComparison.OrdinalIgnoreCase
            );
    }

    static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>For people: without regard to case.</summary>
    static string Words(string text) => text.ToUpperInvariant();
}
