using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Sheets;

/// <summary>Everything that a setup sheet is printed from.</summary>
public sealed record SheetInput
{
    public required Setup Setup { get; init; }

    /// <summary>Lower-case hex of the setup file's bytes.</summary>
    public required string SetupSha256 { get; init; }
    public required CheckResult Check { get; init; }

    /// <summary>The computed path; empty where nothing could be followed.</summary>
    public required IReadOnlyList<TipRun> Path { get; init; }

    /// <summary>In the shop's zone. The same input with the same time gives the same bytes.</summary>
    public required DateTimeOffset Printed { get; init; }

    /// <summary>A read-only page that shows whether this sheet is still current; null where the sheet is made from files alone.</summary>
    public Uri? Scan { get; init; }

    /// <summary>Whether this program is the one that was proven and released, in words; null: nothing was released.</summary>
    public string? Proven { get; init; }
    public PaperSize Paper { get; init; }

    /// <summary>Values of parameters that the check rests on, each in words: what, and whose word it is.</summary>
    public IReadOnlyList<string> Said { get; init; } = [];
}

/// <summary>
/// The setup sheet: what goes where, the findings, the prove-out card. The first page shows the setup's own register
/// values; the card shows the raise and empty boxes and no value that a person is to read from the control.
/// </summary>
public static class SetupSheet
{
    /// <exception cref="InputFault">A text of the setup or the program cannot be printed.</exception>
    public static byte[] Print(SheetInput input)
    {
        var scene = Scene.From(input.Setup, input.Path, input.Check);
        using var flow = new Flow(input.Paper, Edge(input));
        var (run, findings) = (0, 0);
        WhatGoesWhere.Print(flow, input, scene, () => run, () => findings);
        flow.NewPage();
        run = flow.Page;
        WhileItRuns.Print(flow, input);
        MoreViews.Print(flow, scene);
        flow.NewPage();
        findings = flow.Page;
        SheetFindings.Print(flow, input);
        flow.NewPage();
        ProveOutCard.Print(flow, input);
        FirstPieceAndParking.Print(flow, input.Setup);
        Cautions.Print(flow);
        return flow.Finish(new($"Setup sheet {input.Check.Program.Name}", input.Printed));
    }

    /// <summary><c>Bearing cap, operation 10, revision B</c>; the program's name where the setup names no part.</summary>
    public static string JobName(JobNote job, string program)
    {
        string[] parts =
        [
            job.Part,
            job.Operation.Length > 0 ? "operation " + job.Operation : "",
            job.Revision.Length > 0 ? "revision " + job.Revision : "",
        ];
        var name = string.Join(", ", parts.Where(p => p.Length > 0));
        return name.Length > 0 ? name : program;
    }

    static PageEdge Edge(SheetInput input)
    {
        var program = input.Check.Program;
        var printed = input.Printed.ToString("yyyy-MM-dd HH:mm zzz", CultureInfo.InvariantCulture);
        var code =
            input.Scan?.AbsoluteUri
            ?? $"HANDWHEEL:SHEET P:{Short(program.Sha256, 32)} S:{Short(input.SetupSha256, 32)}".ToUpperInvariant();
        string[] foot =
        [
            $"{program.Name}   program {Grouped(program.Sha256)}   setup {Grouped(input.SetupSha256)}   printed {printed}",
            input.Scan is null
                ? "May be out of date: the code holds the digests of the program and the setup that this sheet was made from; compare, or print again."
                : "May be out of date: scan the code to see what is current.",
            "Shows what was checked and what was found; it does not say that a program or a setup can be run without danger.",
        ];
        return new(
            $"{JobName(input.Setup.Job, program.Name)}   ·   {input.Setup.Machine.Name}",
            "all lengths: " + Figures.Word(input.Setup.Units),
            foot,
            code
        );
    }

    static string Short(string digest, int digits) => digest[..Math.Min(digits, digest.Length)];

    /// <summary>The first 12 digits of a digest in groups of four, to be compared by eye.</summary>
    public static string Grouped(string digest) =>
        string.Join(' ', Short(digest, 12).Chunk(4).Select(c => new string(c)));
}
