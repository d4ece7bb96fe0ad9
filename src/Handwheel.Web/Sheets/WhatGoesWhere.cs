using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Sheets;

/// <summary>The page that answers what goes where: part, program, machine, units, registers, tools, stock and holding.</summary>
static class WhatGoesWhere
{
    /// <summary>Size of the line that sends the reader on, points.</summary>
    const double Summary = 10;

    /// <param name="runPage">The page with switches, stops and restart lines; asked for when all pages are laid out.</param>
    /// <param name="findingsPage">The page with the findings, likewise.</param>
    public static void Print(Flow flow, SheetInput input, Scene scene, Func<int> runPage, Func<int> findingsPage)
    {
        Title(flow, input);
        StopBox.Print(flow, input.Check, findingsPage);
        WorkOffsets(flow, input);
        ToolTable.Print(flow, input);
        var said = OnTheTable(input, scene);
        Pictures(flow, scene, said.Sum(s => s.Height(flow.Width)) + (Summary * 1.35) + 6);
        foreach (var sentence in said)
            flow.Words(sentence.Text, sentence.Face, sentence.Size);
        flow.Keep(Summary * 1.35);
        var baseline = flow.Y + Summary;
        flow.Later(ink =>
            ink.Text(
                Ink.Fit(WhileItRuns.InShort(input.Check, runPage()), Face.SansBold, Summary, flow.Width),
                Face.SansBold,
                Summary,
                flow.Left,
                baseline
            )
        );
        flow.Y += Summary * 1.35;
    }

    static void Title(Flow flow, SheetInput input)
    {
        var (job, program, ink) = (input.Setup.Job, input.Check.Program, flow.Ink);
        var room = UnitsMark.Draw(flow, input.Setup.Units);
        ink.Text("Setup sheet", Face.SansBold, 9, flow.Left, flow.Y + 8);
        var size = 24.0;
        var part = job.Part.Length > 0 ? job.Part : program.Name;
        while (size > 11 && Ink.Width(part, Face.SansBold, size) > room)
            size--;
        var bottom = flow.Y + 52;
        var y = flow.Y + 8 + (size * 1.1);
        foreach (var line in Ink.Wrap(part, Face.SansBold, size, room))
        {
            ink.Text(line, Face.SansBold, size, flow.Left, y);
            y += size * 1.15;
        }
        flow.Y = y - (size * 0.75);
        (string Name, string Value)[] facts =
        [
            ("Operation", job.Operation),
            ("Revision", job.Revision),
            ("Machine", input.Setup.Machine.Name),
            ("Program", program.Name),
            ("Run time", Figures.Time(input.Check.RunTime.Programmed)),
        ];
        Facts(flow, facts, room);
        flow.Y = Math.Max(flow.Y, bottom);
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

    /// <param name="room">Beside the units.</param>
    static void Facts(Flow flow, (string Name, string Value)[] facts, double room)
    {
        const double size = 13;
        double[] shares = [0.15, 0.14, 0.2, 0.37, 0.14];
        var lines = facts
            .Select(
                (f, i) =>
                    Ink.Wrap(f.Value.Length > 0 ? f.Value : "not given", Face.SansBold, size, (shares[i] * room) - 6)
            )
            .ToList();
        var x = flow.Left;
        for (var i = 0; i < facts.Length; i++)
        {
            flow.Ink.Text(facts[i].Name, Face.Sans, 8, x, flow.Y + 7);
            for (var l = 0; l < lines[i].Count; l++)
                flow.Ink.Text(lines[i][l], Face.SansBold, size, x, flow.Y + 20 + (l * 15));
            x += shares[i] * room;
        }
        flow.Y += 12 + (lines.Max(l => l.Count) * 15);
    }

    static void WorkOffsets(Flow flow, SheetInput input)
    {
        var (setup, units) = (input.Setup, input.Setup.Units);
        var used = input.Check.WorkOffsets.Select(w => w.Name).ToHashSet(StringComparer.Ordinal);
        flow.Heading($"Work offsets, {Figures.Word(units)}", size: Flow.FromAMetre);
        var rows = setup
            .WorkOffsets.OrderBy(w => w.Key)
            .Select(w =>
                Row(
                    w.Key.ToString(),
                    w.Value,
                    units,
                    Zero(setup.Zeros.GetValueOrDefault(w.Key))
                        + (used.Contains(w.Key.ToString()) ? "" : " Not used by the program.")
                )
            )
            .Concat(
                used.Where(u => setup.WorkOffsets.Keys.All(k => k.ToString() != u))
                    .Select(u => Row(u, default, units, "The setup gives no value."))
            );
        Column[] columns =
        [
            new("Register", 62, Face: Face.MonoBold, Size: 14),
            new("X", 88, Align.Right, Face.Mono, 13),
            new("Y", 88, Align.Right, Face.Mono, 13),
            new("Z", 88, Align.Right, Face.Mono, 13),
            new("  Where zero is on the part, how it was found", 214, Size: 9),
        ];
        new Table(flow, columns, rowHeight: 21).Draw(rows);
        var common = setup.CommonOffset;
        string Say(Length? value) => Figures.Register(value, units);
        flow.Words(
            $"Common offset, which adds to every work offset: X {Say(common.X)}  Y {Say(common.Y)}  Z {Say(common.Z)}",
            size: 9
        );
    }

    static string Zero(ZeroNote? note)
    {
        if (note is null)
            return "The setup does not say.";
        var at = note.At.Length > 0 ? note.At : "the setup does not say where";
        return note.FoundBy.Length > 0 ? $"{at}; found by: {note.FoundBy}" : $"{at}; how it was found is not said";
    }

    static Cell[] Row(string name, Offset offset, Units units, string note) =>
        [
            name,
            .. new[] { offset.X, offset.Y, offset.Z }.Select(v => (Cell)(v?.ToRegisterText(units) ?? "–")),
            "  " + note,
        ];

    static void Pictures(Flow flow, Scene scene, double wordsBelow)
    {
        const double least = 104;
        const double most = 290;
        if (scene.Stock.Count + scene.Holding.Count + scene.Path.Count == 0)
            return;
        flow.Heading("Stock, holding and path", least + wordsBelow, Flow.FromAMetre);
        var room = Math.Clamp(flow.Bottom - flow.Y - wordsBelow, least, most);
        const double gap = 14;
        var half = (flow.Width - gap) / 2;
        var both = !scene.IsWide || IsAsLarge(scene, half, flow.Width, room);
        var width = both ? half : flow.Width;
        ViewFrom[] views = both ? [ViewFrom.Top, ViewFrom.Front] : [ViewFrom.Top];
        var height = scene.IsWide
            ? Math.Min(room, views.Max(v => PartView.HeightFor(scene, v, width, least, most)))
            : room;
        for (var i = 0; i < views.Length; i++)
            PartView.Draw(scene, views[i], width, height).Draw(flow.Ink, flow.Left + (i * (width + gap)), flow.Y);
        flow.Y += height + 4;
    }

    /// <summary>The top view loses little by having the front view beside it: it is the height that limits it.</summary>
    static bool IsAsLarge(Scene scene, double half, double whole, double height) =>
        PartView.Scale(scene, ViewFrom.Top, half, height) > 0.8 * PartView.Scale(scene, ViewFrom.Top, whole, height);

    /// <summary>What stands on the table, in words.</summary>
    static List<Sentence> OnTheTable(SheetInput input, Scene scene)
    {
        var (setup, units) = (input.Setup, input.Setup.Units);
        var said = new List<Sentence>
        {
            new(
                "Solid: cuts, by tool number. Dashed: rapids; with a head at the edge: they go on. Dotted: lifted by the raise. Hatched: holding. White on black: nearest pass.",
                Size: 7.3
            ),
        };
        said.AddRange(
            setup
                .Stock.GroupBy(s => Blank(s, units) + Grip.Of(scene, setup, s))
                .Select(g => new Sentence($"Blank at {Offsets(g)}: {g.Key}."))
        );
        if (setup.Stock.Count == 0)
            said.Add(new("The setup describes no stock."));
        said.Add(new(Torque(setup)));
        if (scene.Tallest is { } tallest)
            said.Add(
                new(
                    $"Tallest thing on the table: {tallest.Name}{Above(scene, tallest, units)}. Measure it before the raise is trusted.",
                    Face.SansBold
                )
            );
        said.AddRange(scene.NotDrawn.Select(missing => new Sentence("Not drawn: " + missing + ".")));
        return said;
    }

    static string Offsets(IEnumerable<Stock> blanks) =>
        string.Join(", ", blanks.Select(b => b.WorkOffset.ToString()).Distinct(StringComparer.Ordinal));

    static string Blank(Stock stock, Units units)
    {
        string Size(Length length) => length.ToRegisterText(units);
        var material = stock.Material.Length > 0 ? stock.Material + ", " : "";
        var size =
            $"X {Size(stock.Max.X - stock.Min.X)} × Y {Size(stock.Max.Y - stock.Min.Y)} × Z {Size(stock.Max.Z - stock.Min.Z)} {units.Symbol()}";
        var on = stock.Parallels.Length > 0 ? $"; set on {stock.Parallels}" : "";
        return $"{material}{size}, top at Z {Size(stock.Max.Z)}{on}";
    }

    static string Torque(Setup setup)
    {
        if (setup.Holding.Count == 0)
            return "The setup describes no holding: look at the table for what the pictures do not show.";
        var given = setup
            .Holding.Where(h => h.Torque.Length > 0)
            .GroupBy(h => h.Torque, StringComparer.Ordinal)
            .Select(g => $"{g.Key}: {string.Join("; ", g.Select(h => h.Name))}")
            .ToList();
        return given.Count == 0
            ? "Clamping torque: the setup gives none."
            : "Clamping torque " + string.Join(". ", given) + ".";
    }

    static string Above(Scene scene, Solid tallest, Units units) =>
        scene.Zeros.Count == 0
            ? ""
            : $", Z {Figures.Register((decimal)Math.Round(tallest.Max.Z - scene.Zeros[0].At.Z, 6), units)} from {scene.Zeros[0].WorkOffset}";

    sealed record Sentence(string Text, Face Face = Face.Sans, double Size = 9)
    {
        public double Height(double width) => Ink.Wrap(Text, Face, Size, width).Count * Size * 1.35;
    }
}
