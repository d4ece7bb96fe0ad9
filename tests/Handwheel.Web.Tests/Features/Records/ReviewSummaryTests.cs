using Handwheel.Jobs.Proving;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Features.Records;

namespace Handwheel.Web.Tests.Features.Records;

public sealed class ReviewSummaryTests
{
    [Fact]
    public void A_measurement_that_was_out_is_pointed_out_and_so_is_one_in_without_a_correction()
    {
        var walk = new Walk().Begin().Until("first-piece.1");
        walk.Do(new FirstPieceMeasured("first-piece.1", "1.4321"))
            .Do(new FirstPieceMeasured("first-piece.1", "1.0001"));
        var part = ReviewSummary
            .Of(walk.ProveOut, a => a.About ?? "")
            .Single(p => p.Title == "First piece out of its limits");
        Assert.Equal(2, part.Lines.Count);
        Assert.Contains("1.4321, out", part.Lines[0].Text, StringComparison.Ordinal);
        Assert.Contains("no correction was recorded", part.Lines[1].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_all_else_waits_for_a_raised_register_the_next_step_is_to_put_it_back()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position").Do(new ToolReplaced(1, "broke"));
        while (StepWords.NextOf(walk.ProveOut) is { WaitsFor.Count: 0, Takes: not Takes.Reading } next)
            walk.Do(walk.Right(next));
        Assert.Equal("put-back.G55.z", StepWords.NextOf(walk.ProveOut)?.Id);
    }
}
