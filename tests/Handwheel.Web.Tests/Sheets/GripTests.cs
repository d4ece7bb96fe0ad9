using Handwheel.Jobs.Setups;
using Handwheel.Web.Sheets;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Tests.Sheets;

public sealed class GripTests
{
    static Setup Demo(string job) =>
        SetupFile.Read(
            File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "jobs", job + ".setup.json")),
            job + ".setup.json"
        );

    static string Of(Setup setup, int blank) =>
        Grip.Of(Scene.From(setup, [], [], raise: null), setup, setup.Stock[blank]);

    /// <summary>By hand: the bearing cap's blank from −1 to 0.05 with jaws up to −0.7; the cover's from −18 to 1.5 with jaws up to −8.</summary>
    [Theory]
    [InlineData("bearing-cap-op10", " (not drawn); gripped 0.3 deep, 0.75 proud")]
    [InlineData("pump-cover-op20", "; gripped 10 deep, 9.5 proud")]
    [InlineData("latch-plate-op10", "")]
    public void How_deep_a_blank_is_held_follows_from_the_shapes(string job, string says) =>
        Assert.Equal(says, Of(Demo(job), 0));

    [Fact]
    public void The_lower_jaw_says_how_deep_and_the_higher_one_how_proud()
    {
        var setup = Demo("bearing-cap-op10");
        var jaw = (BoxHolding)setup.Holding[0];
        var lower = jaw with { Max = jaw.Max with { Z = Handwheel.Nc.Length.From(-0.8m, setup.Units) } };
        Assert.EndsWith(
            "gripped 0.2 deep, 0.75 proud",
            Of(setup with { Holding = [lower, .. setup.Holding.Skip(1)] }, 0),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Parallels_that_are_described_as_holding_are_drawn()
    {
        var setup = Demo("bearing-cap-op10");
        var (jaw, blank) = ((BoxHolding)setup.Holding[0], setup.Stock[0]);
        var bar = jaw with
        {
            Name = "parallel",
            Min = blank.Min with { Z = jaw.Min.Z },
            Max = new(blank.Max.X, blank.Min.Y + Handwheel.Nc.Length.From(0.25m, setup.Units), blank.Min.Z),
        };
        Assert.Equal("; gripped 0.3 deep, 0.75 proud", Of(setup with { Holding = [.. setup.Holding, bar] }, 0));
    }

    [Fact]
    public void Nothing_is_said_of_a_blank_whose_place_is_not_known()
    {
        var setup = Demo("bearing-cap-op10");
        Assert.Equal("", Of(setup with { CommonOffset = default }, 0));
    }
}
