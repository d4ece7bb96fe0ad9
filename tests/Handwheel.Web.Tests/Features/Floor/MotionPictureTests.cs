using Bunit;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Floor;

namespace Handwheel.Web.Tests.Features.Floor;

/// <summary>The picture shows which way the machine goes, from the figures of the step and nothing else.</summary>
public sealed class MotionPictureTests : BunitContext
{
    static StepView Step(string id, params (string Name, string Value)[] compare) =>
        new()
        {
            Id = id,
            Phase = Phase.AirCut,
            Card = "T1",
            Title = "title",
            Where = "where",
            Why = "why",
            Takes = Takes.AgreesOrDiffers,
            State = StepState.Open,
            Compare = [.. compare.Select(c => new Figure(c.Name, c.Value, "in"))],
        };

    IRenderedComponent<MotionPicture> Picture(StepView step) => Render<MotionPicture>(p => p.Add(c => c.Step, step));

    [Theory]
    [InlineData("-0.5000", "0.5000", "to the left and away from the front", 240, 100, 165, 55)]
    [InlineData("0.5000", "-0.5000", "to the right and towards the front", 100, 240, 55, 165)]
    [InlineData("12.0", "0.0000", "to the right:", 100, 240, 110, 110)]
    public void Across_it_points_the_way_that_is_to_go(
        string x,
        string y,
        string says,
        int fromX,
        int toX,
        int fromY,
        int toY
    )
    {
        var picture = Picture(Step("air-cut.tool.1.position", ("X to go", x), ("Y to go", y)));
        Assert.Contains(says, picture.Find("svg").GetAttribute("aria-label"), StringComparison.Ordinal);
        Assert.Equal($"{fromX} {fromY}", At(picture, "circle.from"));
        Assert.Equal($"{toX} {toY}", At(picture, "circle.to"));
    }

    static string At(IRenderedComponent<MotionPicture> picture, string circle)
    {
        var found = picture.Find(circle);
        return $"{found.GetAttribute("cx")} {found.GetAttribute("cy")}";
    }

    [Fact]
    public void With_nothing_to_go_it_draws_no_way()
    {
        var picture = Picture(Step("air-cut.tool.1.position", ("X to go", "0.0000"), ("Y to go", "0.000")));
        Assert.Contains("there already", picture.Find("svg").GetAttribute("aria-label"), StringComparison.Ordinal);
        Assert.Empty(picture.FindAll(".way"));
    }

    [Fact]
    public void Down_it_shows_the_way_and_the_air_that_is_left()
    {
        var picture = Picture(
            Step("air-cut.tool.1.approach", ("Z to go", "about -9.6"), ("air under the tip at its end", "2.2500"))
        );
        var says = picture.Find("svg").GetAttribute("aria-label");
        Assert.Equal(
            "Seen from the front, the tool still goes down: Z to go about -9.6, with 2.2500 of air left under its tip.",
            says
        );
        Assert.Contains("air 2.2500", picture.Markup, StringComparison.Ordinal);
    }

    /// <summary>A machine Z is read blind: whatever else a step holds, no picture is made of it.</summary>
    [Fact]
    public void A_blind_reading_has_no_picture() =>
        Assert.Empty(Picture(Step("first-cut.tool.1.machine-z", ("Z to go", "-9.6"))).Markup.Trim());
}
