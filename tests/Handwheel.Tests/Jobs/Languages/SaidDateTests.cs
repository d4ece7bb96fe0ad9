using System.Globalization;
using Handwheel.Jobs.Languages;

namespace Handwheel.Tests.Jobs.Languages;

/// <summary>A date is written alike on every server, whatever culture and locale data it has.</summary>
public sealed class SaidDateTests
{
    static readonly DateTime AfterMidnight = new(2026, 1, 5, 0, 7, 59, DateTimeKind.Unspecified);

    [Theory]
    [InlineData("")]
    [InlineData("es-MX")]
    [InlineData("de-DE")]
    [InlineData("ar-SA")]
    public void A_date_follows_the_language_and_never_the_culture(string culture)
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = new(culture);
            Assert.Equal("5 Jan 00:07", SaidDate.DayAndTime(AfterMidnight));
            Assert.Equal("5 Jan 2026 00:07", SaidDate.Full(AfterMidnight));
            using var spanish = Said.Speak(Language.Spanish);
            Assert.Equal("5 ene 00:07", SaidDate.DayAndTime(AfterMidnight));
            Assert.Equal("5 ene 2026 00:07", SaidDate.Full(AfterMidnight));
            Assert.Equal("00:07", SaidDate.Time(AfterMidnight));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    /// <summary>
    /// Against the runtime's own names for Spanish, which are the Unicode CLDR's. What a country abbreviates to four letters or ends with a
    /// point (<c>sept.</c>) is compared by its first three.
    /// </summary>
    [Fact]
    public void The_months_are_those_of_the_language()
    {
        using var spanish = Said.Speak(Language.Spanish);
        var names = new CultureInfo("es").DateTimeFormat;
        Assert.SkipWhen(names.GetMonthName(1) != "enero", "this runtime has no names for Spanish");
        for (var month = 1; month <= 12; month++)
            Assert.Equal(
                names.GetMonthName(month)[..3],
                SaidDate.DayAndTime(AfterMidnight.AddMonths(month - 1)).Split(' ')[1]
            );
    }
}
