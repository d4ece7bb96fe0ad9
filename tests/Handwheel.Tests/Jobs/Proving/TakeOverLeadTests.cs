using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

public class TakeOverLeadTests
{
    static TakeOverLead? Lead(Walk walk, Actor by, TimeSpan later) =>
        TakeOverLead.For(walk.ProveOut, by, walk.ProveOut.Entries[^1].At + later);

    [Fact]
    public void Who_comes_to_a_raised_machine_after_a_gap_is_led_to_take_it_over()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position");
        Assert.Null(Lead(walk, NightSetter, TakeOverLead.GapWhileRaised - TimeSpan.FromSeconds(1)));
        Assert.Null(Lead(walk, Setter, TimeSpan.FromDays(1)));
        var lead = Lead(walk, NightSetter, TakeOverLead.GapWhileRaised)!;
        Assert.Equal(Setter.Name, lead.LeftBy);
        Assert.Contains("G55 Z", Assert.Single(lead.Hazards).Text, StringComparison.Ordinal);

        walk.Do(new TakingOverAlone("the day shift has gone"), NightSetter);
        Assert.Null(Lead(walk, Setter, TimeSpan.FromHours(1)));
    }

    [Fact]
    public void With_nothing_raised_half_a_shift_is_let_pass()
    {
        var walk = new Walk().Begin().Until("ready.signed");
        Assert.Null(Lead(walk, NightSetter, TimeSpan.FromHours(1)));
        Assert.Empty(Lead(walk, NightSetter, TakeOverLead.Gap)!.Hazards);
    }

    [Fact]
    public void Before_anything_was_read_there_is_nothing_to_read_back()
    {
        var walk = new Walk().Begin();
        Assert.Null(Lead(walk, NightSetter, TimeSpan.FromDays(2)));
    }

    [Fact]
    public void Who_goes_on_without_reading_back_says_so_in_the_record_and_is_not_asked_again()
    {
        var walk = new Walk().Begin().Until("air-cut.tool.1.position");
        walk.Do(new Note("Went on without reading the registers back. We set it up together."), NightSetter);
        Assert.Null(Lead(walk, NightSetter, TimeSpan.FromHours(8)));
        Assert.NotNull(Lead(walk, Setter, TimeSpan.FromHours(8)));
    }

    [Fact]
    public void What_has_ended_is_not_taken_over()
    {
        var walk = new Walk().Begin().Until();
        Assert.Equal(Standing.Released, walk.ProveOut.Standing);
        Assert.Null(Lead(walk, NightSetter, TimeSpan.FromDays(2)));
    }
}
