using Handwheel.Jobs.Proving;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Proving;

public sealed class WayToGoTests
{
    static Length Inch(decimal value) => Length.From(value, Units.Inch);

    [Fact]
    public void A_way_with_other_digits_than_the_blind_value_is_shown_whole() =>
        Assert.Equal("-4.8125", WayToGo.Text(Inch(-4.8125m), Inch(-11.2995m), Units.Inch));

    [Fact]
    public void A_way_from_machine_zero_is_shown_coarsely()
    {
        var text = WayToGo.Text(Inch(-11.2995m), Inch(-11.2995m), Units.Inch);

        Assert.Equal("about -11.3", text);
    }

    [Fact]
    public void The_sign_makes_no_difference() =>
        Assert.Equal(
            "about 42",
            WayToGo.Text(Length.From(41.7m, Units.Millimetre), Length.From(-41.7m, Units.Millimetre), Units.Millimetre)
        );

    [Fact]
    public void A_way_that_is_round_already_would_be_the_value_and_is_left_out() =>
        Assert.Null(WayToGo.Text(Inch(-10m), Inch(-10m), Units.Inch));
}
