using System.Xml.Linq;
using Handwheel.Web.Sheets;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Tests.Sheets;

public sealed class PartViewTests
{
    static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    internal static Scene Scene => Scene.From(SampleSheet.Setup, SampleSheet.Path, ["G55"], 4m);

    [Fact]
    public void Lies_in_setup_space_with_the_tallest_thing_known()
    {
        Assert.Equal(new Place3(-22.5, -9.25, -18.125), Assert.Single(Scene.Zeros).At);
        Assert.Equal(new Place3(-22.6, -12.35, -19.125), Assert.Single(Scene.Stock).Min);
        Assert.Equal("stud", Scene.Tallest!.Name);
        Assert.Equal(-16.525, Scene.Tallest.Max.Z, 9);
    }

    [Fact]
    public void What_cannot_be_placed_is_said()
    {
        var setup = SampleSheet.Setup with
        {
            WorkOffsets = new Dictionary<Handwheel.Nc.WorkOffsetName, Handwheel.Jobs.Setups.Offset>(),
        };
        var scene = Scene.From(setup, [], ["G55"], null);
        Assert.Empty(scene.Stock);
        Assert.Equal(4, scene.NotDrawn.Count);
        Assert.Contains("stud: the setup gives no full G55", scene.NotDrawn);
    }

    [Theory]
    [InlineData(ViewFrom.Top)]
    [InlineData(ViewFrom.Front)]
    [InlineData(ViewFrom.Side)]
    [InlineData(ViewFrom.Isometric)]
    public void Svg_is_well_formed_and_stays_inside_its_frame(ViewFrom from)
    {
        var svg = XElement.Parse(PartView.Draw(Scene, from, 480, 320).ToSvg());
        var layers = svg.Elements(Svg + "g").Select(g => g.Attribute("class")!.Value).ToHashSet();
        Assert.Superset(new HashSet<string> { "stock", "holding", "cuts", "rapids", "zero", "scale", "tools" }, layers);
        Assert.Equal(from != ViewFrom.Isometric, layers.Contains("dimensions"));
        Assert.Equal(from != ViewFrom.Top, layers.Contains("raised"));
        Assert.Equal(from != ViewFrom.Top, layers.Contains("leaving"));
        var numbers = svg.Descendants(Svg + "path")
            .SelectMany(p => p.Attribute("d")!.Value.Split(['M', 'L', 'Z'], StringSplitOptions.RemoveEmptyEntries))
            .Select(p =>
                p.Split(' ').Select(n => double.Parse(n, System.Globalization.CultureInfo.InvariantCulture)).ToArray()
            );
        Assert.All(numbers, n => Assert.True(n[0] is >= -1 and <= 481 && n[1] is >= -1 and <= 321, $"{n[0]} {n[1]}"));
    }

    /// <summary>A block with a slot along X across its middle, and a hole through it at the back.</summary>
    internal static Scene Cut
    {
        get
        {
            const int columns = 52;
            const int rows = 32;
            var heights = new float[columns * rows];
            for (var i = 0; i < heights.Length; i++)
            {
                var (column, row) = (i % columns, i / columns);
                heights[i] =
                    column is >= 40 and < 46 && row is >= 24 and < 29 ? 0
                    : row is >= 10 and < 20 ? 0.75f
                    : 1;
            }
            var stock = Scene.Stock[0];
            return Scene with
            {
                Path = [],
                AsCut =
                [
                    new()
                    {
                        MinX = stock.Min.X,
                        MaxX = stock.Max.X,
                        MinY = stock.Min.Y,
                        MaxY = stock.Max.Y,
                        Bottom = stock.Min.Z,
                        Height = 1,
                        Columns = columns,
                        Rows = rows,
                        Heights = heights,
                    },
                ],
                Passes =
                [
                    new(1, "toe clamp, left", new(-22.2, -10.7, -17.9), 0.25),
                    new(2, "stud", new(-22.4, -10.2, -17.9), 0),
                ],
            };
        }
    }

    [Fact]
    public void The_stock_as_cut_is_shaded_with_its_steps_and_the_heights_of_its_flats()
    {
        var picture = PartView.Draw(Cut, ViewFrom.AsCut, 520, 360);
        var shades = Assert.Single(picture.Marks.OfType<Shades>());
        var (stockLow, stockHigh) = (shades.Low, shades.High);
        Assert.Equal(5.2 / 3.2, (stockHigh.X - stockLow.X) / (stockLow.Y - stockHigh.Y), 6);
        // from the back: the hole is white, the slot darker than the top
        byte Grey(int column, int row) => shades.Grey.Span[((31 - row) * 52) + column];
        Assert.Equal(255, Grey(43, 26));
        Assert.True(Grey(5, 15) < Grey(5, 3) - 10);
        var steps = Assert.Single(picture.Marks.OfType<Strokes>(), s => s.Layer == "steps");
        Assert.Equal(3, steps.Lines.Count);
        Assert.Contains(steps.Lines, l => l.Count == 2 && l[0].Y == l[1].Y && l.Max(s => s.X) - l.Min(s => s.X) > 280);
        // part zero is at the blank's top
        var depths = picture.Marks.OfType<Label>().Where(l => l.Layer == "depths").Select(l => l.Text).ToList();
        Assert.Equal(["-0.2500", "0.0000", "0.0000"], depths.Where(d => d != "through").Order());
        Assert.DoesNotContain(picture.Marks, m => m.Layer is "cuts" or "rapids" or "tools");
    }

    [Theory]
    [InlineData(ViewFrom.Top, true)]
    [InlineData(ViewFrom.AsCut, true)]
    [InlineData(ViewFrom.Isometric, true)]
    [InlineData(ViewFrom.Front, false)]
    [InlineData(ViewFrom.Side, false)]
    public void Nearest_passes_have_their_number_in_the_views_from_above(ViewFrom from, bool marked)
    {
        var labels = PartView.Draw(Cut, from, 520, 360).Marks.OfType<Label>().Where(l => l.Layer == "passes");
        Assert.Equal(marked ? ["1", "2"] : [], labels.Select(l => l.Text));
    }

    [Fact]
    public void The_picture_of_the_stock_as_cut_is_an_image_that_others_read_and_the_same_every_time()
    {
        var picture = PartView.Draw(Cut, ViewFrom.AsCut, 520, 360);
        var svg = picture.ToSvg();
        Assert.Equal(svg, PartView.Draw(Cut, ViewFrom.AsCut, 520, 360).ToSvg());
        var image = Assert.Single(XElement.Parse(svg).Descendants(Svg + "image"));
        var png = Convert.FromBase64String(image.Attribute("href")!.Value["data:image/png;base64,".Length..]);
        using var read = PdfSharp.Drawing.XImage.FromStream(new MemoryStream(png));
        Assert.Equal((52, 32), (read.PixelWidth, read.PixelHeight));
        // the last chunk with its check, as ISO/IEC 15948 prints it
        Assert.EndsWith("0000000049454E44AE426082", Convert.ToHexString(png), StringComparison.Ordinal);
        OutsideTool.Keep("as-cut.png", png);
    }

    [Fact]
    public void Blanks_far_from_each_other_have_a_picture_each()
    {
        var stock = Scene.Stock[0];
        Solid Moved(Solid solid) =>
            solid with
            {
                Min = solid.Min with { X = solid.Min.X + 15 },
                Max = solid.Max with { X = solid.Max.X + 15 },
            };
        var two = Cut with
        {
            Stock = [stock, Moved(stock)],
            Holding = [.. Scene.Holding, Moved(Scene.Holding[0]) with { Name = "jaw" }],
            AsCut = [Cut.AsCut[0], Cut.AsCut[0]],
        };
        var each = two.ByBlank();
        Assert.Equal(2, each.Count);
        Assert.Equal(["toe clamp, left", "toe clamp, right", "stud"], each[0].Holding.Select(h => h.Name));
        Assert.Equal(["jaw"], each[1].Holding.Select(h => h.Name));
        Assert.Equal([1, 2], each[0].Passes.Select(p => p.Number));
        Assert.Empty(each[1].Passes);
        Assert.Equal(Cut.Stock, Assert.Single(Cut.ByBlank()).Stock);
    }

    [Fact]
    public void Without_stock_and_holding_the_picture_fits_the_path_and_a_lone_zero_keeps_a_scale()
    {
        var bare = Scene with { Stock = [], Holding = [] };
        var cuts = PartView.Draw(bare, ViewFrom.Top, 480, 320).Marks.OfType<Strokes>().First(s => s.Layer == "cuts");
        Assert.True(cuts.Lines.SelectMany(l => l).Max(p => p.X) - cuts.Lines.SelectMany(l => l).Min(p => p.X) > 200);

        var lone = PartView.Draw(bare with { Path = [] }, ViewFrom.Top, 480, 320).Marks.OfType<Label>();
        Assert.Equal("0.2 in", lone.First(l => l.Layer == "scale").Text);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_raise_and_the_tallest_thing_are_written_apart(bool low)
    {
        var scene = low ? Scene with { Raise = 0.4 } : Scene;
        var labels = PartView.Draw(scene, ViewFrom.Front, 264, 250).Marks.OfType<Label>().ToList();
        var tallest = labels.First(l => l.Layer == "tallest").At.Y;
        Assert.All(
            labels.Where(l => l.Layer == "raised"),
            l => Assert.True(l.At.Y < tallest - 7.5 || l.At.Y > tallest + 7.5, $"{l.Text} at {l.At.Y}, {tallest}")
        );
    }

    /// <summary>Part zero on the right, its Z where the name of the tallest thing would stand.</summary>
    [Theory]
    [InlineData(ViewFrom.Front)]
    [InlineData(ViewFrom.Side)]
    public void The_tallest_thing_is_not_written_over_part_zero(ViewFrom from)
    {
        var stock = Scene.Stock[0];
        var corner = new Place3(stock.Max.X, stock.Max.Y, Scene.Tallest!.Max.Z - 0.2);
        var marks = PartView.Draw(Scene with { Zeros = [new("G55", corner)], Raise = null }, from, 300, 240).Marks;
        var axis = marks.OfType<Label>().Single(l => l.Layer == "zero" && l.Text == "Z").At;
        var name = marks.OfType<Label>().Single(l => l.Layer == "tallest");
        var half = Ink.Room(name.Text, name.Face, name.Size) / 2;
        Assert.True(
            axis.X < name.At.X - half || axis.X > name.At.X + half || Math.Abs(axis.Y - name.At.Y) > 7,
            $"Z at {axis}, {name.Text} at {name.At}, half {half}"
        );
        Assert.InRange(name.At.X - half, 0, 300);
    }

    /// <summary>Two jaws of one size, one behind the other: it is said which one is not seen, and the one that is seen is named first.</summary>
    [Theory]
    [InlineData(ViewFrom.Front, "near", "far (behind)")]
    [InlineData(ViewFrom.Side, "far", "near")]
    [InlineData(ViewFrom.Top, "far", "near")]
    public void A_piece_that_another_covers_is_said_to_be_behind(ViewFrom from, string first, string second)
    {
        Solid[] jaws =
        [
            new("far", false, new(0, 4, -1), new(6, 6, 1)),
            new("near", false, new(0, -2, -1), new(6, 0, 1)),
        ];
        var marks = PartView.Draw(Scene with { Stock = [], Holding = jaws, Passes = [] }, from, 480, 320).Marks;
        Assert.Equal([first, second], marks.OfType<Label>().Where(l => l.Layer == "holding").Select(l => l.Text));
    }

    /// <summary>In a crowded picture the name stands in the corner, and a line leads from it to the height it names.</summary>
    [Fact]
    public void The_tallest_thing_keeps_a_line_to_its_height_where_its_name_stands_far_from_it()
    {
        var stock = Scene.Stock[0];
        var top = Scene.Tallest!.Max.Z;
        var zeros = Enumerable
            .Range(0, 12)
            .Select(i => new PartZero($"G{54 + i}", new(stock.Min.X + (i * 0.5), stock.Max.Y, top - 0.1)));
        var marks = PartView.Draw(Scene with { Zeros = [.. zeros] }, ViewFrom.Front, 264, 150).Marks;
        var lines = marks.OfType<Strokes>().Where(s => s.Layer == "tallest").Select(s => s.Lines[0]).ToList();
        var level = lines.Single(l => l[0].Y == l[1].Y);
        var down = lines.Single(l => l[0].X == l[1].X);
        var name = marks.OfType<Label>().Single(l => l.Layer == "tallest");
        Assert.Equal(level[0].Y, down[1].Y);
        Assert.InRange(down[0].Y - name.At.Y, -8, 8);
        Assert.InRange(down[0].X, name.At.X - (Ink.Room(name.Text, name.Face, name.Size) / 2), name.At.X);
    }

    [Fact]
    public void A_length_on_the_part_is_a_length_in_the_picture()
    {
        var stock = PartView
            .Draw(Scene, ViewFrom.Top, 480, 320)
            .Marks.OfType<Strokes>()
            .First(s => s.Layer == "stock")
            .Lines[0];
        var (width, height) = (stock[1].X - stock[0].X, stock[1].Y - stock[2].Y);
        Assert.Equal(5.2 / 3.2, width / height, 6);
    }

    [Fact]
    public void Words_from_a_setup_cannot_become_markup()
    {
        var path = SampleSheet.Path;
        var setup = SampleSheet.Setup with
        {
            Holding =
            [
                ((Handwheel.Jobs.Setups.BoxHolding)SampleSheet.Setup.Holding[0]) with
                {
                    Name = "<script>alert(1)</script>\u0001&",
                },
            ],
        };
        var svg = PartView.Draw(Scene.From(setup, path, ["G55"], null), ViewFrom.Top, 400, 300).ToSvg();
        Assert.Empty(XElement.Parse(svg).Descendants(Svg + "script"));
    }

    [Fact]
    public void Nothing_at_all_still_makes_a_picture()
    {
        var scene = Scene.From(SampleSheet.Setup with { Stock = [], Holding = [] }, [], [], null);
        Assert.NotEmpty(PartView.Draw(scene, ViewFrom.Top, 200, 100).Marks);
    }
}
