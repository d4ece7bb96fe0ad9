using Bunit;
using Handwheel.Jobs.Proving;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Features.Floor;

namespace Handwheel.Web.Tests.Features.Floor;

/// <summary>What a step offers to the person at it, where a reading was not what it should be.</summary>
public sealed class StepTakeTests : BunitContext
{
    const string Length = "ready.tool.1.length";

    IRenderedComponent<StepTake> Take(Walk walk, string step, bool withoutServer = false) =>
        Render<StepTake>(p =>
            p.AddCascadingValue(Banner.Shop)
                .Add(c => c.Step, walk.Step(step))
                .Add(c => c.WhyNot, act => walk.ProveOut.WhyNot(act, SmallShop.Setter))
                .Add(c => c.WithoutServer, withoutServer)
        );

    static Walk Read(string twice)
    {
        var walk = new Walk().Begin().Until(Length);
        return walk.Do(new ReadingTyped(Length, twice)).Do(new ReadingTyped(Length, twice));
    }

    [Fact]
    public void A_length_near_the_setups_is_the_setters_to_decide() =>
        Assert.Contains("Which is right?", Take(Read("5.0645"), Length).Markup, StringComparison.Ordinal);

    [Fact]
    public void A_length_far_from_the_setups_says_where_it_goes_instead_of_offering_nothing()
    {
        var taken = Take(Read("5.0925"), Length);
        Assert.DoesNotContain("Which is right?", taken.Markup, StringComparison.Ordinal);
        Assert.Contains(
            "put the value into the setup and check again",
            taken.Find("ul.waits").TextContent,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void The_way_to_the_correction_is_offered_where_its_form_is()
    {
        var walk = new Walk().Begin().Until("first-piece.1").Do(new FirstPieceMeasured("first-piece.1", "1.4321"));
        Assert.Single(Take(walk, "first-piece.1").FindAll("a[href='#correction-typed']"));
        Assert.Empty(Take(walk, "first-piece.1", withoutServer: true).FindAll("a[href='#correction-typed']"));
    }

    [Fact]
    public void A_height_is_measured_and_not_read_from_the_control()
    {
        var walk = new Walk().Begin().Until("ready.table");
        Assert.Contains("What was measured", Take(walk, "ready.table").Markup, StringComparison.Ordinal);
        Assert.Contains("What the control shows", Take(walk, Length).Markup, StringComparison.Ordinal);
    }
}
