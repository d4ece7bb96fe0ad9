using System.Globalization;
using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Sheets;

/// <summary>On the first page of a sheet whose check says stop: nobody takes it to the machine without seeing it.</summary>
static class StopBox
{
    const int Named = 4;
    const double Line = 12;

    /// <param name="page">Where the findings are printed in full; asked for when all pages are laid out.</param>
    public static void Print(Flow flow, CheckResult check, Func<int> page)
    {
        var stops = check.Findings.Where(f => f.Level == Level.Stop).ToList();
        if (stops.Count == 0)
            return;
        var kinds = stops.GroupBy(f => f.Id, StringComparer.Ordinal).ToList();
        var lines = kinds.Take(Named).Select(k => $"{k.Key}{Lines([.. k])}").ToList();
        if (kinds.Count > Named)
            lines.Add(Text($"and {kinds.Count - Named} more {(kinds.Count - Named == 1 ? "kind" : "kinds")}"));
        flow.Space(4);
        var height = 34 + (lines.Count * Line) + 4;
        flow.Keep(height + 4);
        var (ink, top) = (flow.Ink, flow.Y);
        ink.Box(flow.Left, top, flow.Width, height, 2.4);
        LevelMarks.Draw(ink, Level.Stop, flow.Left + 26, top + (height / 2), 18);
        var x = flow.Left + 56;
        var room = flow.Width - 64;
        var many = stops.Count == 1 ? "finding" : "findings";
        flow.Later(later =>
        {
            var head = Text($"DO NOT PRESS CYCLE START: {stops.Count} {many} at level stop (page {page()})");
            var size = 15.0;
            while (size > 9 && Ink.Width(head, Face.SansBold, size) > room)
                size -= 0.5;
            later.Text(head, Face.SansBold, size, x, top + 21);
        });
        var y = top + 36;
        foreach (var line in lines)
        {
            ink.Text(Ink.Fit(line, Face.Sans, 9.5, room), Face.Sans, 9.5, x, y);
            y += Line;
        }
        flow.Y = top + height + 4;
    }

    static string Lines(IReadOnlyList<Finding> findings)
    {
        var places = findings
            .Where(f => f.Line > 0)
            .Select(f => Text($"{f.Line}{(f.File is { } file ? " of " + file : "")}"))
            .Distinct(StringComparer.Ordinal)
            .ToList();
        return places.Count == 0 ? "" : (places.Count == 1 ? ", line " : ", lines ") + string.Join(", ", places);
    }

    static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
