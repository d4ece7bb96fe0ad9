using System.Xml.Linq;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Tests.Sheets;

public sealed class PartViewTests
{
    static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    static Scene Scene => Scene.From(SampleSheet.Setup, SampleSheet.Path, ["G55"], 4m);

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
    public void Svg_is_well_formed_and_stays_inside_its_frame(ViewFrom from)
    {
        var svg = XElement.Parse(PartView.Draw(Scene, from, 480, 320).ToSvg());
        var layers = svg.Elements(Svg + "g").Select(g => g.Attribute("class")!.Value).ToHashSet();
        Assert.Superset(
            new HashSet<string> { "stock", "holding", "cuts", "rapids", "zero", "dimensions", "scale", "tools" },
            layers
        );
        Assert.Equal(from == ViewFrom.Front, layers.Contains("raised"));
        var numbers = svg.Descendants(Svg + "path")
            .SelectMany(p => p.Attribute("d")!.Value.Split(['M', 'L', 'Z'], StringSplitOptions.RemoveEmptyEntries))
            .Select(p =>
                p.Split(' ').Select(n => double.Parse(n, System.Globalization.CultureInfo.InvariantCulture)).ToArray()
            );
        Assert.All(numbers, n => Assert.True(n[0] is >= -1 and <= 481 && n[1] is >= -1 and <= 321, $"{n[0]} {n[1]}"));
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
