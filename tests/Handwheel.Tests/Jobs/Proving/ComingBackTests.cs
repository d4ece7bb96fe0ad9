using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>After a gap, or when another person goes on, it is said who did what last and what to look at again.</summary>
public class ComingBackTests
{
    static ProveOut Raised() => new Walk().Begin().Until("air-cut.tool.1.position").ProveOut;

    static DateTimeOffset After(ProveOut proveOut, double minutes) => proveOut.Entries[^1].At.AddMinutes(minutes);

    [Theory]
    [InlineData(0)]
    [InlineData(29)]
    public void Who_goes_on_at_once_is_told_nothing(double minutes) =>
        Assert.Null(ComingBack.For(Raised(), Setter, After(Raised(), minutes)));

    [Theory]
    [InlineData(45)]
    [InlineData(14 * 60)]
    public void Who_was_away_is_told_what_was_last_done_and_what_to_look_at_again(double minutes)
    {
        var raised = Raised();
        var back = ComingBack.For(raised, Setter, After(raised, minutes))!;
        Assert.Equal(raised.Entries[^1], back.Last);
        Assert.Contains(back.LookAgain, l => l.Contains("G55 Z still raised", StringComparison.Ordinal));
        Assert.Contains(back.LookAgain, l => l.Contains("which tool is in", StringComparison.Ordinal));
        Assert.Contains(back.LookAgain, l => l.Contains("Single block", StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public void Who_goes_on_for_somebody_else_is_told_at_once_and_not_again_after_an_entry_of_their_own()
    {
        var raised = Raised();
        Assert.NotNull(ComingBack.For(raised, NightSetter, After(raised, 0)));
        var gone = new Walk(raised).Do(new Ticked("air-cut.tool.1.position"), NightSetter).ProveOut;
        Assert.Null(ComingBack.For(gone, NightSetter, After(gone, 1)));
        Assert.NotNull(ComingBack.For(gone, Setter, After(gone, 1)));
    }

    [Fact]
    public void At_every_step_of_a_prove_out_a_gap_is_told()
    {
        var walk = new Walk().Begin();
        var told = 0;
        for (var steps = 0; walk.ProveOut.Standing is Standing.UnderWay && steps < 200; steps++)
        {
            if (walk.ProveOut.Entries.Count > 1)
            {
                var back = ComingBack.For(walk.ProveOut, Setter, After(walk.ProveOut, 45));
                Assert.NotEmpty(back!.LookAgain);
                told++;
            }
            var next = walk.ProveOut.Steps.First(s => s.State is StepState.Open && s.Phase is not Phase.Parking);
            var by =
                next.Id is "release.signed" ? Supervisor
                : next.Id is "restore.witness" ? Operator
                : Setter;
            if (next.Takes is Takes.SupervisorsReason or Takes.OtherWay)
                by = Supervisor;
            walk.Do(walk.Right(next), by);
        }
        Assert.True(told > 30, $"only {told} steps");
    }

    [Fact]
    public void The_gap_of_an_entry_that_waited_on_a_tablet_counts_from_when_it_was_done()
    {
        var raised = Raised();
        var entries = raised.Entries.ToList();
        entries[^1] = entries[^1] with { Kept = new(Morning, 45 * 60) };
        var sent = ProveOut.Replay(raised.Plan, entries, Ledger.Empty);
        Assert.NotNull(ComingBack.For(sent, Setter, After(sent, 1)));
    }
}
