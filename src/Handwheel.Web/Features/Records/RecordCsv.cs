using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Features.ProveOuts;

namespace Handwheel.Web.Features.Records;

/// <summary>Records as tables for a spreadsheet. They are for reading and counting; the evidence is the signed JSON.</summary>
static class RecordCsv
{
    /// <summary>Every prove-out, one a row.</summary>
    public static byte[] List(IEnumerable<RecordRow> rows) =>
        Csv.Of([
            [
                "begun",
                "ended",
                "stands",
                "job",
                "part",
                "operation",
                "revision",
                "machine",
                "program",
                "program sha256",
                "people",
                "entries",
                "head",
            ],
            .. rows.Select(r =>
                (string[])
                    [
                        Time(r.StartedAt),
                        r.EndedAt is { } ended ? Time(ended) : "",
                        Stands(r.End),
                        Number(r.JobNumber),
                        r.Part,
                        r.Operation,
                        r.Revision,
                        r.Machine,
                        r.Program,
                        r.ProgramSha256,
                        r.People,
                        Number(r.Entries),
                        r.Head,
                    ]
            ),
        ]);

    /// <summary>The entries of one ended prove-out, one a row.</summary>
    public static byte[] Entries(OpenedProveOut open)
    {
        var steps = open.ProveOut.Steps.ToDictionary(s => s.Id, StringComparer.Ordinal);
        return Csv.Of([
            [
                "entry",
                "at",
                "zone",
                "person",
                "where",
                "phase",
                "card",
                "step",
                "what",
                "typed",
                "signed as",
                "counts",
                "without connection",
            ],
            .. open.ProveOut.Entries.Select(e => Row(e, e.Act.About is { } id ? steps.GetValueOrDefault(id) : null)),
        ]);

        IReadOnlyList<string> Row(Entry entry, StepView? step) =>
            [
                Number(entry.Number),
                Time(entry.At),
                entry.Zone,
                entry.By.Name,
                entry.Tablet,
                step is null ? "" : StepWords.Of(step.Phase),
                step?.Card ?? "",
                step?.Title ?? entry.Act.About ?? "",
                ActWords.Of(entry.Act, step?.Title ?? entry.Act.About ?? "", typed: true),
                Typed(entry.Act),
                entry.Act.Meaning ?? "",
                open.ProveOut.Unexplained.Any(u => u.Entry == entry.Number) ? "no" : "yes",
                entry.Kept?.Words(entry.At) ?? "",
            ];
    }

    static string Typed(Act act) =>
        act switch
        {
            ReadingTyped reading => reading.Typed,
            FirstPieceMeasured measured => measured.Typed,
            CorrectionEntered correction => correction.Typed,
            _ => "",
        };

    static string Stands(ProveOutEnd end) =>
        end switch
        {
            ProveOutEnd.Open => "under way",
            ProveOutEnd.Released => "released",
            _ => "abandoned",
        };

    static string Time(DateTimeOffset at) =>
        at.UtcDateTime.ToString("yyyy-MM-dd HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    static string Number(long number) => number.ToString(CultureInfo.InvariantCulture);
}
