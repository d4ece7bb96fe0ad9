using System.Globalization;
using Handwheel.Jobs.Proving;
using Handwheel.Nc;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

/// <summary>What the handoff page is printed from.</summary>
public sealed record HandoffInput
{
    public required ProveOut ProveOut { get; init; }

    /// <summary>Part, operation and revision, as people call the job.</summary>
    public required string JobName { get; init; }

    /// <summary>Hash of the last entry, hex: the head that leaves the house on this paper.</summary>
    public required string Head { get; init; }

    /// <summary>By heading key: the outgoing person's words in an open handoff, else what the records know.</summary>
    public required IReadOnlyDictionary<string, string> Words { get; init; }

    /// <summary>Who handed over; null: no handoff is open.</summary>
    public required string? Outgoing { get; init; }

    /// <summary>How it stands, in a sentence.</summary>
    public required string Stands { get; init; }

    /// <summary>In the shop's zone.</summary>
    public required DateTimeOffset Printed { get; init; }
    public Uri? Scan { get; init; }
    public PaperSize Paper { get; init; }
}

/// <summary>
/// The page for a half-set machine: worst first, empty boxes for the incoming person's readings, both signatures. What
/// a register holds or should hold is not on it.
/// </summary>
public static class HandoffPage
{
    public static byte[] Print(HandoffInput input)
    {
        var plan = input.ProveOut.Plan;
        using var flow = new Flow(input.Paper, Edge(input));
        var room = UnitsMark.Draw(flow, plan.Units);
        flow.Ink.Text("Handoff", Face.SansBold, 9, flow.Left, flow.Y + 8);
        flow.Ink.Text(Ink.Fit(plan.MachineName, Face.SansBold, 24, room), Face.SansBold, 24, flow.Left, flow.Y + 34);
        flow.Y += 50;
        flow.Words(input.JobName, Face.SansBold, 13);
        flow.Words($"{input.Stands} Lengths in {Figures.Word(plan.Units)}.");
        Hazards(flow, input, plan);
        foreach (var heading in Handoff.Headings)
            Heading(flow, heading, input.Words.GetValueOrDefault(heading.Key, ""));
        Steps(flow, input.ProveOut);
        ReadBack(flow, input.ProveOut.ToReadBack);
        Signatures(flow, input.Outgoing ?? "");
        return flow.Finish(new("Handoff " + plan.MachineName, input.Printed));
    }

    /// <summary>What could hurt as it stands now, in bars: registers, raises that were lost, what is locked out or bypassed.</summary>
    static void Hazards(Flow flow, HandoffInput input, ProveOutPlan plan)
    {
        foreach (var hazard in input.ProveOut.Ledger.Hazards)
        {
            var by = Read(hazard.LastRead);
            Bar(
                flow,
                hazard.Difference is { } amount
                    ? $"{hazard.Register} {(hazard.Raised ? "is still raised by" : "is off by")} {amount.ToRegisterText(plan.Units)} {Figures.Word(plan.Units)}, {by}"
                    : $"{hazard.Text}, {by}"
            );
        }
        foreach (var lost in input.ProveOut.RaisesLost)
            Bar(flow, $"{lost.Why}, {Read(lost.LastRead)}");
        if (input.ProveOut.LockedOut is { } locked)
            Bar(flow, $"Locked out or bypassed: {locked.InShort}, by {locked.By.Name}");
        if (input.Outgoing is { } outgoing)
            flow.Words($"Below is what {outgoing} wrote when handing over; the bars say what was read last.");

        string Read(LedgerReading last) =>
            $"read {last.At.ToOffset(input.Printed.Offset).ToString("d MMM HH:mm", CultureInfo.InvariantCulture)} by {last.By.Name}";
    }

    static void Bar(Flow flow, string text)
    {
        const double size = 14;
        var lines = Ink.Wrap(text, Face.SansBold, size, flow.Width - 16).ToList();
        var height = (lines.Count * 18) + 8;
        flow.Keep(height + 4);
        flow.Ink.Fill(flow.Left, flow.Y + 2, flow.Width, height, XColors.Black);
        for (var i = 0; i < lines.Count; i++)
            flow.Ink.Text(lines[i], Face.SansBold, size, flow.Left + 8, flow.Y + 20 + (i * 18), colour: XColors.White);
        flow.Y += height + 5;
    }

    static void Heading(Flow flow, HandoffHeading heading, string words)
    {
        flow.Keep(28);
        flow.Ink.Line(flow.Left, flow.Y + 2, flow.Right, flow.Y + 2, 0.4);
        flow.Ink.Text(heading.Title, Face.SansBold, 9, flow.Left, flow.Y + 12);
        flow.Y += 15;
        if (words.Length > 0)
            // one after the other: what is to be read back and signed has to stand on the same page
            flow.Words(Ink.Printable(words.Replace("\n", "; ", StringComparison.Ordinal)), size: 10.5);
        else
        {
            // nobody has said anything under it yet: a line to write on
            flow.Y += 9;
            flow.Ink.Line(flow.Left, flow.Y, flow.Right, flow.Y, 0.3);
        }
        flow.Space(1);
    }

    static void Steps(Flow flow, ProveOut proveOut)
    {
        flow.Ink.Line(flow.Left, flow.Y + 2, flow.Right, flow.Y + 2, 0.4);
        flow.Space(5);
        var half = proveOut.Steps.Where(s =>
            s.State is StepState.ReadAgain or StepState.Refused or StepState.Held or StepState.Hazard
        );
        foreach (var step in half)
            flow.Words($"Half done: {step.Card}: {step.Title}", Face.SansBold);
        var next = proveOut.Steps.FirstOrDefault(s => s.State == StepState.Open && s.Phase is not Phase.Parking);
        var done = proveOut.Steps.Count(s => s.State is StepState.Done or StepState.Deviation);
        flow.Words(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{done} of {proveOut.Steps.Count} steps are done. First that is open: {(next is null ? "none" : $"{next.Card}: {next.Title}")}."
            )
        );
    }

    const double BoxHeight = 19;
    const int ToolsInRow = 2;

    /// <summary>Boxes and signatures stay on one page where one page holds them: whoever signs sees what was read.</summary>
    static void ReadBack(Flow flow, IReadOnlyList<Register> registers)
    {
        var offsets = registers
            .Where(r => r.Axis.Length == 1)
            .GroupBy(r => r.Name)
            .Select(r => new[] { r.Key, Box(r, "x"), Box(r, "y"), Box(r, "z"), "" })
            .ToList();
        var tools = registers
            .Where(r => r.Axis.Length > 1)
            .Select(r => r.ToString())
            .Chunk(ToolsInRow)
            .Select(row => row.SelectMany(words => new[] { words, Cell.Blank }).ToList())
            .ToList();
        flow.Heading(
            "Read back by the incoming person, at the machine",
            130 + ((offsets.Count + tools.Count) * (BoxHeight + 2))
        );
        flow.Words("Write what the control shows, digit by digit. Nothing goes on before every register is read.");
        Column[] columns =
        [
            new("Register", 80, Face: Face.MonoBold, Size: 13),
            new("X shown", 130),
            new("Y shown", 130),
            new("Z shown", 130),
            new("", 70),
        ];
        new Table(flow, columns, rowHeight: BoxHeight).Draw(offsets);
        if (tools.Count > 0)
            new Table(flow, [.. Enumerable.Repeat(OfTool, ToolsInRow).SelectMany(c => c)], rowHeight: BoxHeight).Draw(
                tools.Select(row =>
                    Enumerable.Range(0, 2 * ToolsInRow).Select(i => i < row.Count ? row[i] : "").ToArray()
                )
            );

        static Cell Box(IEnumerable<Register> offset, string axis) => offset.Any(r => r.Axis == axis) ? Cell.Blank : "";
    }

    static readonly Column[] OfTool = [new("Tool register", 80, Face: Face.SansBold, Size: 11), new("shown", 180)];

    static void Signatures(Flow flow, string outgoing)
    {
        flow.Keep(50);
        flow.Space(2);
        var half = (flow.Width - 20) / 2;
        string[] who = [$"Handed over: {outgoing}", "Took over:"];
        for (var i = 0; i < 2; i++)
        {
            var x = flow.Left + (i * (half + 20));
            flow.Ink.Text(Ink.Fit(who[i], Face.SansBold, 10, half), Face.SansBold, 10, x, flow.Y + 10);
            flow.Ink.Line(x, flow.Y + 36, x + half, flow.Y + 36, 0.8);
            flow.Ink.Text("name, time, signature; signed at the tablet as well", Face.Sans, 8, x, flow.Y + 45);
        }
        flow.Y += 48;
    }

    static PageEdge Edge(HandoffInput input)
    {
        var plan = input.ProveOut.Plan;
        var last = input.ProveOut.Last.ToString(CultureInfo.InvariantCulture);
        var log = plan.Subject.ProveOut.ToString();
        string[] foot =
        [
            $"prove-out {log}   entry {last}, head {SetupSheet.Grouped(input.Head)}",
            $"printed {input.Printed.ToString("yyyy-MM-dd HH:mm zzz", CultureInfo.InvariantCulture)}; may be out of date{(input.Scan is null ? "" : ": scan the code to see what is current")}",
            "Look at the machine itself: this page shows what people last said of it.",
        ];
        var code =
            input.Scan?.AbsoluteUri
            ?? $"HANDWHEEL:HANDOFF {log} {last} {input.Head[..Math.Min(32, input.Head.Length)]}".ToUpperInvariant();
        return new(
            $"Handoff   ·   {plan.MachineName}   ·   {input.JobName}",
            "all lengths: " + Figures.Word(plan.Units),
            foot,
            code
        );
    }
}
