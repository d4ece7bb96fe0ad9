using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

/// <summary>One tool in the air cut: where it should be, what may be compared, boxes for what is read.</summary>
static class ToolCard
{
    const double Head = 24;
    const double Row = 50;

    const double WatchRow = 13;

    public static void Print(Flow flow, int number, Tool? tool, Units units, CheckResult check)
    {
        var own = check.Stops.Where(s => s.Tool == number).ToList();
        var watch = check.NearestPasses.Where(p => p.Tool == number).ToList();
        var approaches = own.Where(s => s.Kind == "approach").ToList();
        var first = approaches.FirstOrDefault();
        var again = approaches
            .Skip(1)
            .Where(s => s.LengthOffset == first?.LengthOffset && s.WorkOffset == first?.WorkOffset)
            .ToList();
        var shown = approaches.Except(again).ToList();
        var height =
            Head + (Math.Max(1, shown.Count) * (Row + 24)) + (again.Count > 0 ? 12 : 0) + (watch.Count * WatchRow) + 6;
        flow.Keep(height);
        var (ink, top) = (flow.Ink, flow.Y);
        ink.Box(flow.Left, top, flow.Width, height - 6, 1.2);
        HeadLine(flow, number, tool, first);
        flow.Y += Head;
        if (shown.Count == 0)
        {
            ink.Text(
                "No approach with a length offset was found for this tool. Do not run it in the air before a person knows why.",
                Face.SansBold,
                9,
                flow.Left + 8,
                flow.Y + 14
            );
            ink.Text("See the findings.", Face.Sans, 9, flow.Left + 8, flow.Y + 28);
        }
        foreach (var approach in shown)
            Approach(flow, own, approach, units);
        if (again.Count > 0)
        {
            var lines = string.Join(", ", again.Select(s => s.Line.ToString(CultureInfo.InvariantCulture)));
            ink.Text(
                $"Comes in again with the same H at line {lines}: pause there again.",
                Face.Sans,
                8,
                flow.Left + 8,
                flow.Y + 8
            );
        }
        flow.Y = top + height - 6 - (watch.Count * WatchRow);
        foreach (var pass in watch)
            Watch(flow, pass);
        flow.Y = top + height;
    }

    /// <summary>A place to look at while the tool runs, under the number that it has in the pictures.</summary>
    static void Watch(Flow flow, NearestPass pass)
    {
        var (ink, x, y) = (flow.Ink, flow.Left + 8, flow.Y);
        ink.Fill(x, y, 12, 11, XColors.Black);
        ink.Text(Whole(pass.Number), Face.MonoBold, 8, x + 6, y + 8.5, Align.Centre, XColors.White);
        var text = $"Watch: {pass.Message}, without the raise: {pass.Block}";
        ink.Text(Ink.Fit(text, Face.SansBold, 8.5, flow.Width - 34), Face.SansBold, 8.5, x + 18, y + 8.5);
        flow.Y += WatchRow;
    }

    static void HeadLine(Flow flow, int number, Tool? tool, Stop? approach)
    {
        var (ink, y) = (flow.Ink, flow.Y + 18);
        var t = "T" + number.ToString(CultureInfo.InvariantCulture);
        ink.Text(t, Face.MonoBold, 18, flow.Left + 8, y);
        var name = tool is null ? "not in the setup" : ProveOutCard.Name(tool);
        var x = flow.Left + 18 + Ink.Width(t, Face.MonoBold, 18);
        ink.Text(Ink.Fit(name, Face.SansBold, 11, flow.Right - x - 150), Face.SansBold, 11, x, y);
        var h = approach?.LengthOffset ?? tool?.LengthOffset;
        var place =
            (tool?.Pocket is { } pocket ? $"pocket {Whole(pocket)}   " : "") + (h is { } n ? $"H{Whole(n)}" : "no H");
        ink.Text(place, Face.MonoBold, 12, flow.Right - 8, y, Align.Right);
        ink.Line(flow.Left, flow.Y + Head, flow.Right, flow.Y + Head, 0.6);
    }

    static void Approach(Flow flow, List<Stop> own, Stop approach, Units units)
    {
        var (ink, x, y) = (flow.Ink, flow.Left + 8, flow.Y);
        var block = $"line {Whole(approach.Line)}   {approach.Block}";
        ink.Text(Ink.Fit(block, Face.Mono, 8.5, flow.Width - 225), Face.Mono, 8.5, x, y + 12);
        var over =
            own.LastOrDefault(s =>
                s.Kind == "position" && s.Line <= approach.Line && s.WorkOffset == approach.WorkOffset
            ) ?? approach;
        ink.Text(
            $"{approach.WorkOffset}  over X {Value(over.To.X)}  Y {Value(over.To.Y)}",
            Face.Mono,
            8.5,
            flow.Right - 8,
            y + 12,
            Align.Right
        );
        y += 20;
        var quarter = (flow.Width - 16) / 4;
        Figure(ink, x, y, "distance-to-go Z, raised", ToGo(approach, units));
        Figure(ink, x + quarter, y, "air under the tip, raised", Value(approach.AirBelowRaised));
        ink.Text(
            approach.Below is { } below
                ? Ink.Fit("above " + below, Face.Sans, 8, quarter - 8)
                : "nothing known is under it",
            Face.Sans,
            8,
            x + quarter,
            y + 33
        );
        Figure(ink, x + (2 * quarter), y, "gauge block + feeler", approach.Gauge ?? "–");
        ink.Text("machine Z shown at the end", Face.Sans, 8, x + (3 * quarter), y + 7);
        ink.Box(x + (3 * quarter), y + 10, quarter - 2, 22, 1);
        y += 40;
        string[] ticks =
        [
            "over the right place",
            "distance-to-go fits the air",
            "machine Z agrees",
            "gauge block agrees",
        ];
        for (var i = 0; i < ticks.Length; i++)
        {
            ink.Box(x + (i * quarter), y, 10, 10, 1);
            ink.Text(ticks[i], Face.Sans, 8.5, x + (i * quarter) + 14, y + 8.5);
        }
        flow.Y += Row + 24;

        string Value(decimal? value) => value is { } v ? Figures.Register(v, units) : "–";
    }

    /// <summary>The box beside it is filled in blind.</summary>
    static string ToGo(Stop approach, Units units)
    {
        if (approach.DistanceToGoRaised.Z is not { } z)
            return "–";
        var blind = approach.MachineToRaised.Z is { } machine ? Length.From(machine, units) : (Length?)null;
        return WayToGo.Text(Length.From(z, units), blind, units) ?? "as on the display";
    }

    static void Figure(Ink ink, double x, double y, string name, string value)
    {
        ink.Text(name, Face.Sans, 8, x, y + 7);
        ink.Text(value, Face.MonoBold, 13, x, y + 22);
    }

    static string Whole(int value) => value.ToString(CultureInfo.InvariantCulture);
}
