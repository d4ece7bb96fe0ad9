using System.Globalization;

namespace Handwheel.Jobs.Languages;

/// <summary>
/// Dates in the language that is spoken: day, short name of the month, 24 hours. The names stand here, so that neither the culture nor the
/// locale data of the server changes them.
/// </summary>
public static class SaidDate
{
    /// <summary>The short names of the Unicode CLDR for Mexico (<c>es-MX</c>), as the tables' other words are.</summary>
    static readonly string[] SpanishMonths =
    [
        "ene",
        "feb",
        "mar",
        "abr",
        "may",
        "jun",
        "jul",
        "ago",
        "sep",
        "oct",
        "nov",
        "dic",
    ];

    /// <summary><c>24 Nov 11:17</c>.</summary>
    public static string DayAndTime(DateTime at) => $"{Day(at)} {Time(at)}";

    /// <summary><c>24 Nov 2026 11:17</c>.</summary>
    public static string Full(DateTime at) =>
        string.Create(CultureInfo.InvariantCulture, $"{Day(at)} {at:yyyy} {at:HH:mm}");

    /// <summary><c>11:17</c>.</summary>
    public static string Time(DateTime at) => at.ToString("HH:mm", CultureInfo.InvariantCulture);

    static string Day(DateTime at) => string.Create(CultureInfo.InvariantCulture, $"{at.Day} {Month(at)}");

    static string Month(DateTime at) =>
        Said.Language switch
        {
            Language.Spanish => SpanishMonths[at.Month - 1],
            Language.Marked => SaidText.Mark(at.ToString("MMM", CultureInfo.InvariantCulture)),
            _ => at.ToString("MMM", CultureInfo.InvariantCulture),
        };
}
