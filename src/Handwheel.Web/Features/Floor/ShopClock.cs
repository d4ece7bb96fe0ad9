using System.Globalization;
using Handwheel.Data;
using Handwheel.Web.Shell;

namespace Handwheel.Web.Features.Floor;

/// <summary>Times as the shop's wall clock shows them.</summary>
public sealed record ShopClock(TimeZoneInfo Zone, TimeProvider Time)
{
    public static async Task<ShopClock> Of(HandwheelDb db, TimeProvider time) =>
        new(TimeZoneInfo.FindSystemTimeZoneById((await db.Shop()).Zone), time);

    /// <summary>For what is written down and read later: without its age.</summary>
    public string At(DateTimeOffset at) => SaidDate.DayAndTime(TimeZoneInfo.ConvertTime(at, Zone).DateTime);

    /// <summary>Its name and what it is ahead of UTC now: <c>America/Chicago (UTC−06:00)</c>.</summary>
    public string ZoneWords
    {
        get
        {
            var ahead = Zone.GetUtcOffset(Time.GetUtcNow());
            var sign = ahead < TimeSpan.Zero ? "−" : "+";
            return string.Create(CultureInfo.InvariantCulture, $"{Zone.Id} (UTC{sign}{ahead:hh\\:mm})");
        }
    }

    /// <summary>False on a page that is kept and grows older: an age on it would soon be wrong.</summary>
    public bool SaysAge { get; init; } = true;

    public string When(DateTimeOffset at) => SaysAge ? Shown.When(at, Time.GetUtcNow(), Zone) : At(at);
}
