using System.Text;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>What a tablet recorded without connection: marked, and worth nothing where it could not know what happened meanwhile.</summary>
public class KeptOnTabletTests
{
    static readonly KeptOnTablet Kept = new(Morning.AddMinutes(-25), 25 * 60);

    static Entry Next(ProveOut proveOut, Act act, long basedOn, KeptOnTablet? kept) =>
        new(proveOut.Last + 1, Morning.AddHours(1), "UTC", Setter, "tablet 1", basedOn, act, kept);

    [Fact]
    public void A_step_done_without_knowing_of_an_interruption_is_refused_and_one_done_after_it_is_not()
    {
        var walk = new Walk().Begin().Until("ready.machine.referenced");
        var seen = walk.ProveOut.Last;
        var tick = new Ticked("ready.machine.guards");
        Assert.Empty(walk.ProveOut.WhyNot(Next(walk.ProveOut, tick, seen, Kept)));

        walk.Do(new HoldingChanged("left clamp lower"));
        walk.Until("ready.machine.guards");
        Assert.Contains(
            walk.ProveOut.WhyNot(Next(walk.ProveOut, tick, seen, Kept)),
            r => r.Contains("waited on a tablet", StringComparison.Ordinal)
        );
        Assert.Empty(walk.ProveOut.WhyNot(Next(walk.ProveOut, tick, walk.ProveOut.Last, Kept)));
        Assert.Empty(walk.ProveOut.WhyNot(Next(walk.ProveOut, new Note("chips"), seen, Kept)));
    }

    [Fact]
    public void The_entry_says_both_times_and_the_record_tells_of_it_in_words()
    {
        var proveOut = new Walk().Begin().ProveOut;
        var entry = Next(proveOut, new Note("chips"), proveOut.Last, Kept);
        Assert.Equal(Morning.AddMinutes(35), entry.DoneAt);
        var told = RecordHappenings.Of([entry]).Select(h => (string?)h!["words"]).ToList();
        Assert.Contains("recorded on the tablet without connection, 25 min before it came to the server", told[^1]!);
        Assert.Contains("which is not the server's", told[^1]!);
        var right = Kept with { Recorded = Morning.AddMinutes(35) };
        Assert.DoesNotContain("clock", right.Words(entry.At), StringComparison.Ordinal);

        var json = EntryJson.Write(entry);
        Assert.Contains("\"kept\":{\"recorded\":", Encoding.UTF8.GetString(json), StringComparison.Ordinal);
        Assert.Equal(entry, EntryJson.Read(json));
        Assert.DoesNotContain("kept", Encoding.UTF8.GetString(EntryJson.Write(entry with { Kept = null })));
    }

    [Theory]
    [InlineData(-1, false)]
    [InlineData(0, true)]
    [InlineData(86_400, true)]
    [InlineData(999_999_999_999, false)]
    public void A_waiting_time_that_cannot_be_is_refused(long waited, bool kept) =>
        Assert.Equal(kept, new KeptOnTablet(Morning, waited).WhyNot() is null);

    [Theory]
    [InlineData(12, "12 s before")]
    [InlineData(61, "1 min before")]
    [InlineData(7_500, "2 h 05 min before")]
    public void How_long_it_waited_is_said_in_units_that_people_use(long waited, string words) =>
        Assert.Contains(
            words,
            new KeptOnTablet(Morning, waited).Words(Morning.AddSeconds(waited)),
            StringComparison.Ordinal
        );
}
