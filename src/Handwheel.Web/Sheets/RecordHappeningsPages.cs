using System.Text.Json;

namespace Handwheel.Web.Sheets;

/// <summary>What happened beside the steps: interruptions, differences, changes, notes, photos, an end without a release.</summary>
static class RecordHappeningsPages
{
    /// <param name="titleOf">Names a step of the record by its id.</param>
    public static void Print(Flow flow, JsonElement record, Func<string, string> titleOf)
    {
        flow.Heading("What else happened", 50);
        var any = false;
        foreach (var h in record.List("happenings"))
        {
            any = true;
            flow.Words($"Entry {h.Text("entry")}, {h.Text("by")}, {h.When()}: {h.Text("what")}", Face.SansBold, 9.5);
            if (h.Text("step") is { Length: > 0 } step)
                flow.Words(titleOf(step), indent: 12);
            if (h.Text("words") is { Length: > 0 } words)
                flow.Words(words, indent: 12);
        }
        if (!any)
            flow.Words("None.");
    }
}
