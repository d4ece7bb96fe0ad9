using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Web.Shell;

/// <summary>Figures as people read them at a machine. What is not known is a dash, never a zero.</summary>
public static class Shown
{
    public const string NotKnown = "—";

    /// <summary>A length of a check with the decimals of the register: <c>-11.2350</c>.</summary>
    public static string Register(decimal? value, Units units) =>
        value is { } known ? Length.From(known, units).ToRegisterText(units) : NotKnown;

    public static string Register(Length? value, Units units) => value?.ToRegisterText(units) ?? NotKnown;

    /// <summary>The unit word of a check (<c>inch</c>, <c>mm</c>) as a unit.</summary>
    public static Units UnitsOf(string word) => word == "mm" ? Units.Millimetre : Units.Inch;

    /// <summary>Seconds as <c>48 s</c>, <c>12 min 30 s</c> or <c>2 h 05 min</c>, rounded to the second or minute.</summary>
    public static string Duration(decimal? seconds)
    {
        if (seconds is not { } known)
            return NotKnown;
        var whole = (long)decimal.Round(known, MidpointRounding.AwayFromZero);
        return whole switch
        {
            < 60 => Text($"{whole} s"),
            < 3600 => Text($"{whole / 60} min {whole % 60:00} s"),
            _ => Text($"{whole / 3600} h {whole % 3600 / 60:00} min"),
        };
    }

    /// <summary>A distance travelled, to a tenth in inches or a whole millimetre.</summary>
    public static string Distance(decimal? value, Units units) =>
        value is { } known ? Text(units == Units.Inch ? $"{known:0.0}" : (FormattableString)$"{known:0}") : NotKnown;

    /// <summary>How long before <paramref name="now"/>: <c>just now</c>, <c>12 min ago</c>, <c>3 h 44 min ago</c>, <c>2 days ago</c>.</summary>
    public static string Ago(DateTimeOffset at, DateTimeOffset now)
    {
        var passed = now - at;
        return passed.TotalMinutes switch
        {
            < 1 => Said.In("just now"),
            < 60 => Said.In($"{(int)passed.TotalMinutes} min ago"),
            < 48 * 60 => Said.In($"{(int)passed.TotalHours} h{Minutes(passed.Minutes)} ago"),
            _ => Said.In($"{(int)passed.TotalDays} days ago"),
        };
    }

    static string Minutes(int minutes) => minutes == 0 ? "" : Said.In($" {minutes} min");

    /// <summary>A moment in the shop's zone with its age: <c>14:12, 3 h 44 min ago</c>; with the date when it is another day.</summary>
    public static string When(DateTimeOffset at, DateTimeOffset now, TimeZoneInfo zone)
    {
        var there = TimeZoneInfo.ConvertTime(at, zone).DateTime;
        var sameDay = there.Date == TimeZoneInfo.ConvertTime(now, zone).Date;
        var clock = sameDay ? SaidDate.Time(there) : SaidDate.Full(there);
        return clock + ", " + Ago(at, now);
    }

    /// <summary>A moment in the shop's zone, in full: <c>24 Nov 2026 11:17</c>.</summary>
    public static string Moment(DateTimeOffset at, TimeZoneInfo zone) =>
        SaidDate.Full(TimeZoneInfo.ConvertTime(at, zone).DateTime);

    /// <summary>Bytes as <c>812 B</c>, <c>14.2 kB</c> or <c>3.1 MB</c>.</summary>
    public static string Size(long bytes) =>
        bytes switch
        {
            < 1000 => Text($"{bytes} B"),
            < 1_000_000 => Text($"{bytes / 1000m:0.0} kB"),
            _ => Text($"{bytes / 1_000_000m:0.0} MB"),
        };

    static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
