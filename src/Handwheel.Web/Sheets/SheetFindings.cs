using System.Globalization;
using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Sheets;

/// <summary>What the check found, worst first, and what it did not check.</summary>
static class SheetFindings
{
    public static void Print(Flow flow, SheetInput input)
    {
        var check = input.Check;
        flow.Heading("Findings");
        var stops = check.Findings.Count(f => f.Level == Level.Stop);
        if (stops > 0)
            flow.Words(
                $"{Many(stops, "finding")} at level stop: do not press cycle start before each is put right, or a supervisor has signed a reason.",
                Face.SansBold,
                11
            );
        if (check.Findings.Count == 0)
            flow.Words(
                "The check found nothing to say. It knows only what the setup describes and what is listed below as not checked."
            );
        else
            List(flow, check);
        PassesAndMaterial.Print(flow, check, input.Setup);
        flow.Heading("Not checked");
        if (!check.Program.FollowedToEnd)
            flow.Words("The program was not followed to its end: nothing after that place is judged.", Face.SansBold);
        if (check.NotChecked.Count == 0)
            flow.Words(
                "Every check that this version knows was made. What no check knows: what stands on the table beside what the setup describes, whether tools and registers are as written here, whether the program makes the part."
            );
        foreach (var group in NotCheckedGroups.Of(check.NotChecked))
            flow.Words($"–  {group.What}{(group.Why.Count > 0 ? ": " : "")}{string.Join("; ", group.Why)}");
        if (check.CuttingData is { } table)
            flow.Words($"Speeds, chip loads and depths were judged by “{table.Name}”, version {table.Sha256[..12]}.");
    }

    static void List(Flow flow, CheckResult check)
    {
        Column[] columns =
        [
            new("Level", 62),
            new("Line", 36, Align.Right, Face.Mono, 9),
            new("   What is so, and what to do", 442, Size: 9.5),
        ];
        var rows = check
            .Findings.OrderByDescending(f => f.Level)
            .ThenBy(f => f.Line)
            .Select(f =>
                new Cell[]
                {
                    LevelMarks.Cell(f.Level),
                    f.Line > 0 ? f.Line.ToString(CultureInfo.InvariantCulture) : "",
                    $"{f.Message}\n{f.Remedy}\n{Place(f)}",
                }
            );
        new Table(flow, columns).Draw(rows);
    }

    /// <summary>The block, the tool and the name under which the help explains it.</summary>
    static string Place(Finding finding)
    {
        var block = finding.Block.Length > 0 ? finding.Block + "   " : "";
        var tool = finding.Tool is { } t ? string.Create(CultureInfo.InvariantCulture, $"T{t}   ") : "";
        return $"{tool}{block}({finding.Id})";
    }

    static string Many(int count, string what) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {what}{(count == 1 ? "" : "s")}");
}
