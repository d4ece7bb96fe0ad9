using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Sheets.Pictures;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

/// <summary>What goes into the pockets: one row a tool, used by the program or only listed.</summary>
static class ToolTable
{
    public static void Print(Flow flow, SheetInput input)
    {
        var (setup, check) = (input.Setup, input.Check);
        flow.Heading($"Tools, {Figures.Word(setup.Units)}", size: Flow.FromAMetre);
        var numbers = check.Tools.Select(t => t.Tool).Union(setup.Tools.Select(t => t.Number)).ToList();
        var looks = ToolLook.For(input.Path.Select(r => r.Tool));
        Column[] columns =
        [
            new("T", 38, Face: Face.MonoBold, Size: Flow.FromAMetre),
            new("Pocket", 34, Face: Face.MonoBold, Size: 12),
            new("Tool, holder", 126, Size: 8.5),
            new("Hand", 28, Size: 9),
            new("⌀", 46, Align.Right, Face.Mono, 9.5),
            new("Stick-out", 58, Align.Right, Face.Mono, 9),
            new("H", 24, Align.Right, Face.MonoBold, 12),
            new("Length in H", 56, Align.Right, Face.Mono, 9.5),
            new("D", 22, Align.Right, Face.MonoBold, 12),
            new("Lowest Z", 52, Align.Right, Face.Mono, 9.5),
            new("Coolant", 40, Align.Right, Face.Sans, 8.5),
            new("Time", 36, Align.Right, Face.Mono, 9.5),
        ];
        var rows = numbers.Select(n => Row(n, setup, check, looks.GetValueOrDefault(n)));
        new Table(flow, columns, rowHeight: 24).Draw(rows);
    }

    static Cell[] Row(int number, Setup setup, CheckResult check, ToolLook? look)
    {
        var tool = setup.Tools.FirstOrDefault(t => t.Number == number);
        var use = check.Tools.FirstOrDefault(t => t.Tool == number);
        var units = setup.Units;
        string Length(Length? value) => value?.ToRegisterText(units) ?? "–";
        return
        [
            new(number.ToString(CultureInfo.InvariantCulture), (ink, x, y, w, h) => Series(ink, look, x, y, w, h)),
            Figures.Whole(tool?.Pocket),
            What(tool, use is not null, units),
            tool is null ? ""
            : tool.Hand == Hand.Left ? "LEFT"
            : "right",
            Length(tool?.Diameter),
            StickOut(tool, units),
            Figures.Whole(tool?.LengthOffset),
            Length(tool?.Length),
            Figures.Whole(tool?.DiameterOffset),
            use?.LowestTip is { } lowest ? Figures.Register(lowest, units) : "–",
            use is null ? "–" : Coolant(use.Coolant),
            use?.Seconds is { } seconds ? Figures.Time(seconds) : "–",
        ];
    }

    /// <summary>The colour under which the tool's moves stand in the pictures.</summary>
    static void Series(Ink ink, ToolLook? look, double x, double y, double width, double height)
    {
        if (look is null)
            return;
        var colour = XColor.FromArgb(
            int.Parse("ff" + look.Colour[1..], NumberStyles.HexNumber, CultureInfo.InvariantCulture)
        );
        ink.Page.DrawLine(new XPen(colour, 3), x + width - 6, y + 4, x + width - 6, y + height - 4);
    }

    static string What(Tool? tool, bool used, Units units)
    {
        if (tool is null)
            return "not in the setup";
        var what = string.Join(", ", new[] { tool.Kind, tool.Description }.Where(s => s.Length > 0));
        if (tool.Holder.Count > 0)
            what += "; holder ⌀" + Figures.Short(tool.Holder.Max(h => h.Diameter), units);
        if (tool.LengthWear.Nanometres != 0)
            what += $"; length wear {tool.LengthWear.ToRegisterText(units)}";
        if (tool.DiameterOffset is not null && tool.DiameterValue is { } register)
            what += $"; D holds {register.ToRegisterText(units)}";
        if (tool.DiameterWear.Nanometres != 0)
            what += $"; D wear {tool.DiameterWear.ToRegisterText(units)}";
        return used ? what : what + "; not used";
    }

    /// <summary>As it is set, and below it how little and how much it may be.</summary>
    public static string StickOut(Tool? tool, Units units)
    {
        if (tool is null || (tool.Stickout ?? tool.StickoutLeast ?? tool.StickoutMost) is null)
            return "–";
        var set = tool.Stickout is { } given ? given.ToRegisterText(units) : "not set";
        return (tool.StickoutLeast, tool.StickoutMost) switch
        {
            ({ } least, { } most) => $"{set}\n{Figures.Short(least, units)}–{Figures.Short(most, units)}",
            ({ } least, null) => $"{set}\n≥ {Figures.Short(least, units)}",
            (null, { } most) => $"{set}\n≤ {Figures.Short(most, units)}",
            _ => set,
        };
    }

    static string Coolant(IReadOnlyList<string> words) => words.Count == 0 ? "no M7, M8" : string.Join(", ", words);
}
