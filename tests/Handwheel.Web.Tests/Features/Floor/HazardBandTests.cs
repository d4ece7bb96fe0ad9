using Bunit;
using Handwheel.Web.Features.Floor;

namespace Handwheel.Web.Tests.Features.Floor;

public sealed class HazardBandTests : BunitContext
{
    static FloorHazard Raised(string register) => new($"{register} still raised 2.0000 in", "read 08:00", Raised: true);

    [Fact]
    public void What_is_locked_out_is_never_folded_away_behind_raised_registers()
    {
        FloorHazard[] hazards =
        [
            Raised("G54 Z"),
            Raised("G55 Z"),
            Raised("G56 Z"),
            new("Locked out or bypassed: door switch", "written 08:10", Raised: false, Stays: true),
            new("Handoff open", "nobody has taken it over", Raised: false),
        ];
        var band = Render<HazardBand>(with => with.Add(b => b.Hazards, hazards));
        var first = band.Find(".first").TextContent;
        Assert.Contains("G55 Z still raised", first, StringComparison.Ordinal);
        Assert.Contains("Locked out or bypassed: door switch", first, StringComparison.Ordinal);
        Assert.DoesNotContain("G56 Z", first, StringComparison.Ordinal);
        Assert.Equal("and 1 more still raised, 1 other ▾", band.Find(".more").TextContent.Trim());
        Assert.Equal(5, band.FindAll("li").Count);
    }
}
