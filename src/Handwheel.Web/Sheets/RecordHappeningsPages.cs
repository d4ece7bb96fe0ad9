using System.Text.Json;

namespace Handwheel.Web.Sheets;

/// <summary>What happened beside the steps: interruptions, differences, changes, notes, photos, an end without a release.</summary>
static class RecordHappeningsPages
{
    static readonly Column[] Columns =
    [
        new("what", 96, Face: Face.SansBold, Size: 9),
        new("step, and in words", 198, Size: 9),
        RecordPages.Who,
        RecordPages.Time,
        RecordPages.EntryNumber,
    ];

    /// <param name="titleOf">Names a step of the record by its id.</param>
    public static void Print(Flow flow, JsonElement record, Func<string, string> titleOf)
    {
        flow.Heading("What else happened", 50);
        var rows = record.List("happenings").Select(h => Row(h, titleOf)).ToList();
        if (rows.Count == 0)
            flow.Words("None.");
        else
            new Table(flow, Columns, 9, name: "What else happened").Draw(rows);
    }

    static Cell[] Row(JsonElement happening, Func<string, string> titleOf)
    {
        var step = happening.Text("step") is { Length: > 0 } id ? titleOf(id) : "";
        string[] said = [step, happening.Text("words")];
        return
        [
            happening.Text("what"),
            string.Join('\n', said.Where(s => s.Length > 0)),
            happening.Text("by"),
            happening.When(),
            happening.Text("entry"),
        ];
    }
}
