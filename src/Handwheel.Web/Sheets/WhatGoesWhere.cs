using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Sheets.Pictures;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

/// <summary>The page that answers what goes where: part, program, machine, units, registers, tools, stock and holding.</summary>
static class WhatGoesWhere
{
    public static void Print(Flow flow, SheetInput input, int findingsPage)
    {
        Title(flow, input);
        StopBox.Print(flow, input.Check, findingsPage);
        WorkOffsets(flow, input);
        Tools(flow, input);
        var scene = Scene.From(input.Setup, input.Path, input.Check);
        Pictures(flow, scene, 34 + (14 * (input.Setup.Stock.Count + scene.NotDrawn.Count)));
        StockAndHolding(flow, input.Setup, scene);
    }

    static void Title(Flow flow, SheetInput input)
    {
        var (job, program, ink) = (input.Setup.Job, input.Check.Program, flow.Ink);
        var units = input.Setup.Units == Units.Inch ? "INCH" : "MM";
        var unitsWidth = Ink.Width(units, Face.SansBold, 34) + 22;
        ink.Fill(flow.Right - unitsWidth, flow.Y, unitsWidth, 46, XColors.Black);
        ink.Text(units, Face.SansBold, 34, flow.Right - (unitsWidth / 2), flow.Y + 35, Align.Centre, XColors.White);
        ink.Text("Setup sheet", Face.SansBold, 9, flow.Left, flow.Y + 8);
        var room = flow.Width - unitsWidth - 12;
        var size = 24.0;
        var part = job.Part.Length > 0 ? job.Part : program.Name;
        while (size > 11 && Ink.Width(part, Face.SansBold, size) > room)
            size--;
        var y = flow.Y + 8 + (size * 1.1);
        foreach (var line in Ink.Wrap(part, Face.SansBold, size, room))
        {
            ink.Text(line, Face.SansBold, size, flow.Left, y);
            y += size * 1.15;
        }
        flow.Y = Math.Max(flow.Y + 50, y + 4);
        (string Name, string Value)[] facts =
        [
            ("Operation", job.Operation),
            ("Revision", job.Revision),
            ("Machine", input.Setup.Machine.Name),
            ("Program", program.Name),
            ("Run time", Figures.Time(input.Check.RunTime.Programmed)),
        ];
        Facts(flow, facts);
        ink = flow.Ink;
        ink.Text("sha256", Face.SansBold, 7.5, flow.Left, flow.Y + 7);
        ink.Text(SetupSheet.Grouped(program.Sha256), Face.MonoBold, 9.5, flow.Left + 36, flow.Y + 8);
        ink.Text(program.Sha256, Face.Mono, 6.6, flow.Right, flow.Y + 7, Align.Right);
        flow.Y += 13;
        if (input.Proven is { } proven)
            flow.Words(proven, Face.SansBold, 9.5);
        if (job.Notes.Length > 0)
            flow.Words(job.Notes, size: 10);
        if (input.Said.Count > 0)
            flow.Words(
                "The control must hold, or the program takes another path: " + string.Join("; ", input.Said) + ".",
                size: 10
            );
    }

    static void Facts(Flow flow, (string Name, string Value)[] facts)
    {
        double[] shares = [0.14, 0.13, 0.2, 0.37, 0.16];
        var lines = facts
            .Select(
                (f, i) =>
                    Ink.Wrap(
                        f.Value.Length > 0 ? f.Value : "not given",
                        Face.SansBold,
                        14,
                        (shares[i] * flow.Width) - 6
                    )
            )
            .ToList();
        var x = flow.Left;
        for (var i = 0; i < facts.Length; i++)
        {
            flow.Ink.Text(facts[i].Name, Face.Sans, 8, x, flow.Y + 7);
            for (var l = 0; l < lines[i].Count; l++)
                flow.Ink.Text(lines[i][l], Face.SansBold, 14, x, flow.Y + 22 + (l * 16));
            x += shares[i] * flow.Width;
        }
        flow.Y += 14 + (lines.Max(l => l.Count) * 16);
    }

    static void WorkOffsets(Flow flow, SheetInput input)
    {
        var (setup, units) = (input.Setup, input.Setup.Units);
        var used = input.Check.WorkOffsets.Select(w => w.Name).ToHashSet(StringComparer.Ordinal);
        flow.Heading($"Work offsets, {Figures.Word(units)}");
        var rows = setup
            .WorkOffsets.OrderBy(w => w.Key)
            .Select(w =>
                Row(w.Key.ToString(), w.Value, units, used.Contains(w.Key.ToString()) ? "" : "not used by the program")
            )
            .Concat(
                used.Where(u => setup.WorkOffsets.Keys.All(k => k.ToString() != u))
                    .Select(u => Row(u, default, units, "the setup gives no value"))
            )
            .Append(Row("common", setup.CommonOffset, units, "adds to every work offset"));
        Column[] columns =
        [
            new("Register", 85, Face: Face.MonoBold, Size: 14),
            new("X", 105, Align.Right, Face.Mono, 14),
            new("Y", 105, Align.Right, Face.Mono, 14),
            new("Z", 105, Align.Right, Face.Mono, 14),
            new("", 140, Size: 8.5),
        ];
        new Table(flow, columns, rowHeight: 21).Draw(rows);
    }

    static Cell[] Row(string name, Offset offset, Units units, string note) =>
        [
            name,
            .. new[] { offset.X, offset.Y, offset.Z }.Select(v => (Cell)(v?.ToRegisterText(units) ?? "–")),
            "  " + note,
        ];

    static void Tools(Flow flow, SheetInput input)
    {
        var (setup, check, units) = (input.Setup, input.Check, input.Setup.Units);
        flow.Heading($"Tools, {Figures.Word(units)}");
        var numbers = check.Tools.Select(t => t.Tool).Union(setup.Tools.Select(t => t.Number)).ToList();
        var looks = ToolLook.For(input.Path.Select(r => r.Tool));
        Column[] columns =
        [
            new("T", 40, Face: Face.MonoBold, Size: 17),
            new("Pocket", 36, Face: Face.MonoBold, Size: 12),
            new("Tool", 132, Size: 9.5),
            new("⌀", 52, Align.Right, Face.Mono, 10),
            new("Stick-out", 52, Align.Right, Face.Mono, 10),
            new("H", 28, Align.Right, Face.MonoBold, 12),
            new("Length in H", 60, Align.Right, Face.Mono, 10),
            new("D", 26, Align.Right, Face.MonoBold, 12),
            new("Lowest Z", 62, Align.Right, Face.Mono, 10),
            new("Time", 46, Align.Right, Face.Mono, 10),
        ];
        var rows = numbers.Select(n => ToolRow(n, setup, check, looks.GetValueOrDefault(n)));
        new Table(flow, columns, rowHeight: numbers.Count > 8 ? 22 : 25).Draw(rows);
    }

    static Cell[] ToolRow(int number, Setup setup, CheckResult check, ToolLook? look)
    {
        var tool = setup.Tools.FirstOrDefault(t => t.Number == number);
        var use = check.Tools.FirstOrDefault(t => t.Tool == number);
        var units = setup.Units;
        string Length(Length? value) => value?.ToRegisterText(units) ?? "–";
        var what = tool is null
            ? "not in the setup"
            : string.Join(", ", new[] { tool.Kind, tool.Description }.Where(s => s.Length > 0));
        if (tool is { LengthWear.Nanometres: not 0 })
            what += $"; length wear {tool.LengthWear.ToRegisterText(units)}";
        if (tool is { Hand: Hand.Left })
            what += "; left hand";
        if (use is null)
            what += "; not used";
        var t = number.ToString(CultureInfo.InvariantCulture);
        return
        [
            new(
                t,
                (ink, x, y, width, height) =>
                {
                    if (look is null)
                        return;
                    var pen = new XPen(
                        XColor.FromArgb(
                            int.Parse("ff" + look.Colour[1..], NumberStyles.HexNumber, CultureInfo.InvariantCulture)
                        ),
                        3
                    );
                    ink.Page.DrawLine(pen, x + width - 8, y + 4, x + width - 8, y + height - 4);
                }
            ),
            Figures.Whole(tool?.Pocket),
            what,
            Length(tool?.Diameter),
            Length(tool?.Stickout),
            Figures.Whole(tool?.LengthOffset),
            Length(tool?.Length),
            Figures.Whole(tool?.DiameterOffset),
            use?.LowestTip is { } lowest ? Figures.Register(lowest, units) : "–",
            use?.Seconds is { } seconds ? Figures.Time(seconds) : "–",
        ];
    }

    static void Pictures(Flow flow, Scene scene, double wordsBelow)
    {
        const double least = 130;
        const double most = 290;
        if (scene.Stock.Count + scene.Holding.Count + scene.Path.Count == 0)
            return;
        if (scene.IsWide)
            Stacked(flow, scene, wordsBelow);
        else
        {
            flow.Heading("Stock, holding and path", least + wordsBelow);
            var height = Math.Clamp(flow.Bottom - flow.Y - wordsBelow, least, most);
            var width = (flow.Width - 14) / 2;
            PartView.Draw(scene, ViewFrom.Top, width, height).Draw(flow.Ink, flow.Left, flow.Y);
            PartView.Draw(scene, ViewFrom.Front, width, height).Draw(flow.Ink, flow.Left + width + 14, flow.Y);
            flow.Y += height + 6;
        }
        flow.Words(
            "Solid: cuts, by tool number. Dashed: rapids. Dotted: the copy that the raise lifts. Hatched: holding. White number on black: nearest pass to a piece of holding.",
            size: 8
        );
    }

    /// <summary>One picture above the other: both on this page where they can be read, else the second on the next.</summary>
    static void Stacked(Flow flow, Scene scene, double wordsBelow)
    {
        const double least = 125;
        const double most = 250;
        flow.Heading("Stock, holding and path", least);
        var room = flow.Bottom - flow.Y - wordsBelow - 12;
        var height = room >= 2 * least ? Math.Min(room / 2, most) : Math.Min(flow.Bottom - flow.Y, most);
        foreach (var from in new[] { ViewFrom.Top, ViewFrom.Front })
        {
            flow.Keep(height);
            PartView.Draw(scene, from, flow.Width, height).Draw(flow.Ink, flow.Left, flow.Y + 2);
            flow.Y += height + 6;
        }
    }

    static void StockAndHolding(Flow flow, Setup setup, Scene scene)
    {
        var units = setup.Units;
        foreach (var stock in setup.Stock)
        {
            var size =
                $"{Size(stock.Max.X - stock.Min.X)} × {Size(stock.Max.Y - stock.Min.Y)} × {Size(stock.Max.Z - stock.Min.Z)} {units.Symbol()}";
            flow.Words(
                $"Stock at {stock.WorkOffset}: {(stock.Material.Length > 0 ? stock.Material + ", " : "")}{size} (X × Y × Z), top at Z {Size(stock.Max.Z)}."
            );
        }
        if (scene.Tallest is { } tallest)
            flow.Words(
                $"Tallest thing on the table: {tallest.Name}. Measure it before the raise is trusted.",
                Face.SansBold
            );
        foreach (var missing in scene.NotDrawn)
            flow.Words("Not drawn: " + missing + ".");
        if (setup.Stock.Count == 0)
            flow.Words("The setup describes no stock.");
        if (setup.Holding.Count == 0)
            flow.Words("The setup describes no holding: look at the table for what the pictures do not show.");

        string Size(Length length) => length.ToRegisterText(units);
    }
}
