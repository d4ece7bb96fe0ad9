using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Sheets;

/// <summary>Where to look: the stock as cut with the nearest pass to each piece of holding; and what each tool takes off.</summary>
static class PassesAndMaterial
{
    public static void Print(Flow flow, CheckResult check, Setup setup)
    {
        var units = setup.Units;
        AsCut(flow, check, setup);
        if (check.NearestPasses.Count > 0)
            Passes(flow, check, units);
        if (check.Material.Count > 0)
            Material(flow, check, units);
    }

    static void AsCut(Flow flow, CheckResult check, Setup setup)
    {
        if (check.AsCut.Why is { } why)
        {
            flow.Heading("Stock as cut");
            flow.Words($"There is no picture of what the program leaves of the stock: {why}.");
            return;
        }
        var scenes = Scene.From(setup, [], check).ByBlank();
        var across = Math.Min(2, scenes.Count);
        var width = (flow.Width - (14 * (across - 1))) / across;
        var height = scenes.Max(s => PartView.HeightFor(s, ViewFrom.AsCut, width, 130, 300));
        flow.Heading("Stock as cut, and the nearest passes", height + 30);
        foreach (var row in scenes.Chunk(across))
        {
            flow.Keep(height);
            for (var i = 0; i < row.Length; i++)
                PartView
                    .Draw(row[i], ViewFrom.AsCut, width, height)
                    .Draw(flow.Ink, flow.Left + (i * (width + 14)), flow.Y);
            flow.Y += height + 4;
        }
        flow.Words(AsCutWords.Legend(setup.Units), size: 8);
    }

    static void Passes(Flow flow, CheckResult check, Units units)
    {
        Column[] columns =
        [
            new("No.", 26, Face: Face.MonoBold, Size: 11),
            new("Holding", 136, Face: Face.SansBold, Size: 10),
            new("Air", 58, Align.Right, Face.Mono, 10),
            new("   Where", 104, Size: 9.5),
            new("T", 30, Face: Face.MonoBold, Size: 11),
            new("Line", 44, Align.Right, Face.Mono, 9),
            new("   Block", 142, Face: Face.Mono, Size: 8.5),
        ];
        Under(
            flow,
            $"Nearest passes, {Figures.Word(units)}: watch these places",
            new Table(flow, columns),
            check.NearestPasses.Select(p =>
                new Cell[]
                {
                    p.Number.ToString(CultureInfo.InvariantCulture),
                    p.Holding,
                    Figures.Register(p.Distance, units),
                    "   " + NearestPassWords.Side(p),
                    p.Tool.ToString(CultureInfo.InvariantCulture),
                    p.Line.ToString(CultureInfo.InvariantCulture),
                    "   " + (p.File is null ? p.Block : $"{p.Block} ({p.File})"),
                }
            )
        );
    }

    static void Material(Flow flow, CheckResult check, Units units)
    {
        var cubic = units.Symbol() + "³";
        Column[] columns =
        [
            new("T", 40, Face: Face.MonoBold, Size: 11),
            new("Deepest cut", 100, Align.Right, Face.Mono, 10),
            new("Widest cut", 100, Align.Right, Face.Mono, 10),
            new($"Removed, {cubic}", 120, Align.Right, Face.Mono, 10),
            new($"On average, {cubic}/min", 150, Align.Right, Face.Mono, 10),
        ];
        Under(
            flow,
            $"What each tool takes off, {Figures.Word(units)}",
            new Table(flow, columns),
            check.Material.Select(m =>
                new Cell[]
                {
                    m.Tool.ToString(CultureInfo.InvariantCulture),
                    Figures.Register(m.Depth, units),
                    m.Width is { } width ? Figures.Register(width, units) : "–",
                    Volume(m.Removed),
                    m.RemovalRate is { } rate ? Volume(rate) : Figures.NotKnown,
                }
            )
        );
    }

    static void Under(Flow flow, string heading, Table table, IEnumerable<Cell[]> rows)
    {
        var all = rows.ToList();
        flow.Heading(heading, table.Together(all));
        table.Draw(all);
    }

    static string Volume(decimal value) => value.ToString("0.00", CultureInfo.InvariantCulture);
}
