using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

public class ReviewTests
{
    const string Restored = "restore.offset.G55.z";

    [Fact]
    public void What_was_typed_may_be_reviewed_when_only_the_release_is_left_and_not_while_a_reading_can_be_asked_blind()
    {
        var walk = new Walk().Begin().Until(Restored);
        Assert.False(walk.ProveOut.MayBeReviewed);
        walk.Until("first-piece.1");
        Assert.False(walk.ProveOut.MayBeReviewed);
        walk.Until("release.signed");
        Assert.True(walk.ProveOut.MayBeReviewed);

        walk.Do(new SentBack([Restored], "read it with the light on"), Supervisor);
        Assert.False(walk.ProveOut.MayBeReviewed);
        walk.Until("release.signed");
        Assert.True(walk.ProveOut.MayBeReviewed);
        walk.Do(new Interrupted("power was off"));
        Assert.False(walk.ProveOut.MayBeReviewed);
    }

    [Fact]
    public void Every_try_is_kept_with_whether_it_was_right_and_blind()
    {
        var walk = new Walk().Begin().Until(Restored);
        foreach (var typed in new[] { "-15.1250", "-12.1250", "-18.1250" })
            walk.Do(new ReadingTyped(Restored, typed));
        Assert.Equal(
            [("-15.1250", false, false), ("-12.1250", false, false), ("-18.1250", true, true)],
            walk.ProveOut.Tries.Where(t => t.Step == Restored).Select(t => (t.Typed, t.Right, t.NotBlind))
        );
        Assert.All(walk.ProveOut.Tries.Where(t => t.Step != Restored), t => Assert.True(t.Right && !t.NotBlind));
    }

    [Fact]
    public void A_correction_keeps_what_was_worked_out_beside_what_was_typed()
    {
        var walk = new Walk().Begin().Until("first-piece.2");
        walk.Do(new FirstPieceMeasured("first-piece.2", "0.2460"));
        walk.Do(new CorrectionEntered("first-piece.2", "H1", "5.0600", "measured twice"));
        var made = Assert.Single(walk.ProveOut.Corrections);
        Assert.Equal(("H1", "5.0600", "measured twice"), (made.Register, made.Typed, made.Why));
        Assert.Contains("0.2460 measured", made.WorkedOut!.Words, StringComparison.Ordinal);
    }
}
