using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets;

/// <summary>Figures as they stand on paper: always with the register's decimals, never with the culture's signs.</summary>
static class Figures
{
    /// <summary>The unit in a sentence, where <c>in</c> would read as another word.</summary>
    public static string Word(Units units) => units == Units.Inch ? "inch" : "mm";

    public const string NotKnown = "not known";

    /// <summary><c>-11.2350</c> in inch, <c>38.000</c> in millimetres.</summary>
    public static string Register(decimal value, Units units) => Length.From(value, units).ToRegisterText(units);

    public static string Register(decimal? value, Units units) => value is { } v ? Register(v, units) : NotKnown;

    public static string Register(Length? value, Units units) => value?.ToRegisterText(units) ?? NotKnown;

    /// <summary>Without the zeros at its end, for lengths that are set with a rule: <c>1.75</c>.</summary>
    public static string Short(Length value, Units units) =>
        value.In(units).ToString("0.######", CultureInfo.InvariantCulture);

    /// <summary><c>4:07</c>, or <c>1:04:07</c> from an hour on; to the nearest second.</summary>
    public static string Time(decimal? seconds)
    {
        if (seconds is not { } s)
            return NotKnown;
        var whole = TimeSpan.FromSeconds((double)decimal.Round(s, MidpointRounding.AwayFromZero));
        return whole.TotalHours >= 1
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"{(int)whole.TotalHours}:{whole.Minutes:D2}:{whole.Seconds:D2}"
            )
            : string.Create(CultureInfo.InvariantCulture, $"{whole.Minutes}:{whole.Seconds:D2}");
    }

    public static string Whole(int? value) => value?.ToString(CultureInfo.InvariantCulture) ?? "";
}
