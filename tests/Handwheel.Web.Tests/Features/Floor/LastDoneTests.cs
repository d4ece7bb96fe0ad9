using Handwheel.Web.Features.Floor;
using Microsoft.Extensions.Time.Testing;

namespace Handwheel.Web.Tests.Features.Floor;

/// <summary>When something was done last, as the shop's wall shows it, over midnight and over both changes of the clock.</summary>
public sealed class LastDoneTests
{
    static readonly TimeZoneInfo Vienna = TimeZoneInfo.FindSystemTimeZoneById("Europe/Vienna");

    [Theory]
    [InlineData("2026-11-27T22:50:00Z", "2026-11-27T22:58:00Z", "23:50, 8 min ago")]
    // over midnight the day is said as well
    [InlineData("2026-11-27T22:50:00Z", "2026-11-27T23:35:00Z", "27 Nov 2026 23:50, 45 min ago")]
    // summer time ends: at 03:00 it is 02:00 again, and 02:30 comes twice
    [InlineData("2026-10-25T00:30:00Z", "2026-10-25T01:30:00Z", "02:30, 1 h ago")]
    // summer time begins: 02:00 is 03:00
    [InlineData("2026-03-29T00:45:00Z", "2026-03-29T01:30:00Z", "01:45, 45 min ago")]
    public void The_time_and_its_age_are_right(string done, string now, string said)
    {
        var clock = new ShopClock(Vienna, new FakeTimeProvider(DateTimeOffset.Parse(now, null)));
        Assert.Equal(said, clock.When(DateTimeOffset.Parse(done, null)));
        var kept = clock with { SaysAge = false };
        Assert.DoesNotContain("ago", kept.When(DateTimeOffset.Parse(done, null)), StringComparison.Ordinal);
    }
}
