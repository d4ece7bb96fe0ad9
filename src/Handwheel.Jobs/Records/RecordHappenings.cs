using System.Globalization;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Proving;

namespace Handwheel.Jobs.Records;

/// <summary>
/// What happened beside the steps, in words, for the record's readers: interruptions, differences, changes at the machine, notes, photos,
/// what was taken or sent back, what a tablet kept without connection, and why it was abandoned. Drawn from the entries, which stay the evidence.
/// </summary>
static class RecordHappenings
{
    public static JsonArray Of(IReadOnlyList<Entry> entries)
    {
        var happenings = new JsonArray();
        foreach (var entry in entries)
        {
            if (Words(entry.Act) is var (what, words))
                happenings.Add((JsonNode)Line(entry, what, words));
            if (entry.Kept is { } kept)
                happenings.Add((JsonNode)Line(entry, "came later than it was done", kept.Words(entry.At)));
        }
        return happenings;
    }

    static JsonObject Line(Entry entry, string what, string words) =>
        new()
        {
            ["what"] = what,
            ["step"] = entry.Act.About ?? (entry.Act as Note)?.Step,
            ["words"] = words,
            ["entry"] = entry.Number,
            ["by"] = entry.By.Name,
            ["at"] = RecordDocument.Time(entry.At),
            ["zone"] = entry.Zone,
        };

    /// <summary>Null: the act is told elsewhere in the record.</summary>
    static (string What, string Words)? Words(Act act) =>
        act switch
        {
            Interrupted a => ("interrupted", a.What),
            Differs a => ("differs", a.Saw),
            DifferenceSettled a => ("done about it", a.Done),
            BaselineDecided a => (a.RegisterIsRight ? "the register is right" : "the setup is right", a.Why),
            LengthChanged a => ($"T{Text(a.Tool)} has another length", a.Why),
            ToolReplaced a => ($"T{Text(a.Tool)} replaced", a.Why),
            BaselineChanged a => ($"{a.Register} {a.Axis.ToUpperInvariant()} set anew", a.Why),
            HoldingChanged a => ("holding or stock changed", a.What),
            RaiseChosen a => ($"raise of {a.Typed} chosen", a.Why),
            AirCutWanted a => ("air cut wanted", a.Reason),
            TakenBack a => ($"entry {Text(a.Entry)} taken back", a.Why),
            SentBack a => ("sent back: " + string.Join(", ", a.Steps), a.Reason),
            Note { Corrects: { } entry } a => ($"corrects entry {Text(entry)}", a.Text),
            Note a => ("note", a.Text),
            PhotoAdded a => ("photo " + a.Sha256, a.Caption),
            ParkingBegun => ("parking begun", ""),
            Abandoned a => ("abandoned", a.Reason),
            _ => null,
        };

    static string Text(long number) => number.ToString(CultureInfo.InvariantCulture);
}
