using System.Globalization;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

/// <summary>What a page of labels is printed from.</summary>
public sealed record LabelsInput
{
    public required Setup Setup { get; init; }

    /// <summary>Lower-case hex of the setup file's bytes.</summary>
    public required string SetupSha256 { get; init; }

    /// <summary>In the shop's zone.</summary>
    public required DateTimeOffset Printed { get; init; }

    /// <summary>A read-only page that shows whether the labels are still current; null where they are made from a file alone.</summary>
    public Uri? Scan { get; init; }
    public PaperSize Paper { get; init; }
}

/// <summary>Labels for tool holders, to be cut out: number, register, what it is, a line for the length as it is measured.</summary>
public static class ToolLabels
{
    const int Across = 3;
    const double Height = 98;
    const double Inside = 8;

    /// <exception cref="InputFault">A text of the setup cannot be printed, or the setup lists no tool.</exception>
    public static byte[] Print(LabelsInput input)
    {
        var setup = input.Setup;
        if (setup.Tools.Count == 0)
            throw new InputFault("the setup", null, "tools", "no tool", "at least one tool to print a label for");
        using var flow = new Flow(input.Paper, Edge(input));
        flow.Heading("Labels for tool holders");
        flow.Words(
            $"Cut along the dashes. Lengths in {Figures.Word(setup.Units)}. Write the length as it is measured, with the work offsets not raised; a label without a length is a tool that nobody has measured.",
            size: 9
        );
        flow.Space(6);
        var width = flow.Width / Across;
        foreach (var row in setup.Tools.Chunk(Across))
        {
            flow.Keep(Height);
            for (var i = 0; i < row.Length; i++)
                Label(flow.Ink, row[i], setup, flow.Left + (i * width), flow.Y, width);
            flow.Y += Height;
        }
        return flow.Finish(new("Labels for tool holders", input.Printed));
    }

    static void Label(Ink ink, Tool tool, Setup setup, double x, double y, double width)
    {
        var cut = new XPen(XColors.Black, 0.5) { DashPattern = [6, 4] };
        ink.Page.DrawRectangle(cut, x, y, width, Height);
        var (left, right, room) = (x + Inside, x + width - Inside, width - (2 * Inside));
        ink.Text("T" + Whole(tool.Number), Face.MonoBold, 28, left, y + 28);
        var registers =
            (tool.LengthOffset is { } h ? "H" + Whole(h) : "no H")
            + (tool.DiameterOffset is { } d ? "  D" + Whole(d) : "");
        ink.Text(registers, Face.MonoBold, 15, right, y + 20, Align.Right);
        if (tool.Pocket is { } pocket)
            ink.Text("pocket " + Whole(pocket), Face.Sans, 8, right, y + 31, Align.Right);
        var name = ProveOutCard.Name(tool);
        var lines = Ink.Wrap(name.Length > 0 ? name : "not described", Face.SansBold, 9.5, room);
        for (var i = 0; i < Math.Min(2, lines.Count); i++)
        {
            var rest = i == 1 && lines.Count > 2 ? string.Join(' ', lines.Skip(1)) : lines[i];
            ink.Text(Ink.Fit(rest, Face.SansBold, 9.5, room), Face.SansBold, 9.5, left, y + 43 + (i * 11));
        }
        var sizes = Sizes(tool, setup.Units);
        var points = Ink.Fit(sizes, Face.Mono, 7.5, room) == sizes ? 7.5 : 6.5;
        ink.Text(Ink.Fit(sizes, Face.Mono, points, room), Face.Mono, points, left, y + 65);
        Blank(ink, "length, " + setup.Units.Symbol(), left, right, y + 80);
        Blank(ink, "by, on", left, right, y + 93);
    }

    static string Sizes(Tool tool, Units units)
    {
        var sizes = new List<string>();
        if (tool.Diameter is { } diameter)
            sizes.Add("⌀" + diameter.ToRegisterText(units));
        if (ToolTable.StickOut(tool, units) is var stickOut and not "–")
            sizes.Add("stick-out " + Limits(stickOut));
        if (tool.Hand == Hand.Left)
            sizes.Insert(0, "LEFT HAND");
        return string.Join("  ", sizes);
    }

    static string Limits(string stickOut) =>
        stickOut.Split('\n') is [var set, var limits] ? $"{set} ({limits})" : stickOut;

    static void Blank(Ink ink, string name, double left, double right, double y)
    {
        ink.Text(name, Face.Sans, 8, left, y);
        ink.Line(left + 44, y + 1, right, y + 1, 0.7);
    }

    static PageEdge Edge(LabelsInput input)
    {
        var job = SetupSheet.JobName(input.Setup.Job, "tools");
        var printed = input.Printed.ToString("yyyy-MM-dd HH:mm zzz", CultureInfo.InvariantCulture);
        string[] foot =
        [
            $"{job}   setup {SetupSheet.Grouped(input.SetupSha256)}   printed {printed}",
            input.Scan is null
                ? "May be out of date: the code holds the digest of the setup that these labels were made from."
                : "May be out of date: scan the code to see what is current.",
        ];
        return new(
            $"{job}   ·   {input.Setup.Machine.Name}",
            "all lengths: " + Figures.Word(input.Setup.Units),
            foot,
            input.Scan?.AbsoluteUri ?? $"HANDWHEEL:LABELS S:{input.SetupSha256}".ToUpperInvariant()
        );
    }

    static string Whole(int value) => value.ToString(CultureInfo.InvariantCulture);
}
