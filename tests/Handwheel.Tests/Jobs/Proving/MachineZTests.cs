using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>
/// A wrong machine Z: G55 Z −18.1250, raise 3.0000, H1 5.0625, H2 5.1250, programmed Z 0.1000. T1 shows −9.9625 in the
/// air and −12.9625 at the true height. Common practice, no source.
/// </summary>
public class MachineZTests
{
    [Theory]
    [InlineData("air-cut.tool.1.machine-z", "-12.9625", "the raise: G55 is not raised")]
    [InlineData("air-cut.tool.1.machine-z", "-15.9625", "twice the raise, downwards")]
    [InlineData("air-cut.tool.1.machine-z", "-6.9625", "raised twice")]
    [InlineData("air-cut.tool.1.machine-z", "-9.9000", "the difference of H1 and H2")]
    [InlineData("air-cut.tool.1.machine-z", "-15.0250", "no length offset is in force")]
    [InlineData("air-cut.tool.1.machine-z", "-20.0875", "the length counts with the opposite sign")]
    [InlineData("air-cut.tool.1.machine-z", "9.9625", "its sign")]
    [InlineData("air-cut.tool.1.machine-z", "0.1000", "the wrong page of the display")]
    [InlineData("air-cut.tool.1.machine-z", "-253.0475", "the display shows the other unit")]
    [InlineData("air-cut.tool.1.machine-z", "-7.7777", "No usual slip explains it")]
    [InlineData("first-cut.tool.1.machine-z", "-9.9625", "the raise: G55 is still raised")]
    [InlineData("first-cut.tool.1.machine-z", "-6.9625", "raised again and not put back")]
    [InlineData("first-cut.tool.1.machine-z", "-15.9625", "taken away from G55 twice, or H1 was measured while raised")]
    [InlineData("first-cut.tool.2.machine-z", "-12.9625", "the difference of H2 and H1")]
    public void It_says_what_may_be_wrong_and_gives_nothing_to_type_into_a_register(
        string step,
        string typed,
        string cause
    )
    {
        var walk = new Walk().Begin().Until(step).Do(new ReadingTyped(step, typed)).Do(new ReadingTyped(step, typed));
        var view = walk.Step(step);
        Assert.Equal(StepState.Refused, view.State);
        Assert.Contains(cause, view.Says, StringComparison.Ordinal);
        Assert.Contains("typed into no register", view.Says, StringComparison.Ordinal);
        Assert.Contains("Look at the Z of G55", view.Says, StringComparison.Ordinal);
        Assert.Contains("which tool is in the spindle", view.Says, StringComparison.Ordinal);
        Assert.DoesNotContain(view.Shows!, view.Says, StringComparison.Ordinal);
        Assert.DoesNotContain("so that it reads", view.Says, StringComparison.Ordinal);
        Assert.DoesNotContain("set it to", view.Says, StringComparison.OrdinalIgnoreCase);
    }
}
