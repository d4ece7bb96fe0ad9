using System.Globalization;
using CsCheck;
using Handwheel.Jobs.Readings;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Readings;

public sealed class TypedNumberTests
{
    [Theory]
    [InlineData("0", "0")]
    [InlineData("-12.125", "-12.125")]
    [InlineData("+12.125", "12.125")]
    [InlineData("38.000", "38.000")]
    [InlineData("5.", "5")]
    [InlineData(".5", "0.5")]
    [InlineData("-.000001", "-0.000001")]
    [InlineData("00005", "5")]
    [InlineData("99999.999999", "99999.999999")]
    [InlineData("-0", "0")]
    public void A_number_is_read_and_its_text_kept(string typed, string value)
    {
        Assert.True(TypedNumber.TryRead(typed, out var number, out var refusal), refusal);
        Assert.Equal(typed, number.Text);
        Assert.Equal(decimal.Parse(value, NumberStyles.Float, CultureInfo.InvariantCulture), number.Value);
    }

    [Theory]
    [InlineData(null, "nothing was typed")]
    [InlineData("", "nothing was typed")]
    [InlineData("12,5", "comma")]
    [InlineData("1,234.5", "comma")]
    [InlineData("1e3", "exponent")]
    [InlineData("1E-3", "exponent")]
    [InlineData("12.5mm", "without a unit")]
    [InlineData("12.5\"", "without a unit")]
    [InlineData("Z12.5", "without a unit")]
    [InlineData(" 12.5", "space")]
    [InlineData("12.5 ", "space")]
    [InlineData("1 234", "space")]
    [InlineData("1\u00A0234", "space")]
    [InlineData("\u221212.5", "minus of the keyboard")]
    [InlineData("12-5", "sign in the wrong place")]
    [InlineData("--5", "sign in the wrong place")]
    [InlineData("5-", "sign in the wrong place")]
    [InlineData("1.2.3", "more than one point")]
    [InlineData(".", "no digit")]
    [InlineData("-", "no digit")]
    [InlineData("-.", "no digit")]
    [InlineData("123456", "more than 5 digits")]
    [InlineData("181250000", "is the point missing")]
    [InlineData("1.1234567", "more than 6 decimals")]
    [InlineData("1.0000000", "more than 6 decimals")]
    [InlineData("١٢", "digits other than 0 to 9")]
    [InlineData("１２", "digits other than 0 to 9")]
    [InlineData("NaN", "without a unit")]
    [InlineData("1_000", "not a number")]
    [InlineData("12.5\n", "space")]
    public void Anything_else_is_refused_in_words(string? typed, string words)
    {
        Assert.False(TypedNumber.TryRead(typed, out _, out var refusal));
        Assert.Contains(words, refusal, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refusal);
    }

    [Theory]
    [InlineData("-18.1250", Units.Inch, "0.0001", true)]
    [InlineData("-18.12501", Units.Inch, "0.0001", false)]
    [InlineData("38.000", Units.Millimetre, "0.001", true)]
    [InlineData("38.0005", Units.Millimetre, "0.001", false)]
    [InlineData("38.0000", Units.Millimetre, "0.001", true)]
    [InlineData("38.0005", Units.Millimetre, "0.0005", true)]
    [InlineData("38.5", Units.Millimetre, "1", false)]
    public void More_decimals_than_the_register_has_are_refused_never_rounded(
        string typed,
        Units units,
        string increment,
        bool taken
    )
    {
        var step = Length.From(decimal.Parse(increment, NumberStyles.Float, CultureInfo.InvariantCulture), units);
        Assert.Equal(taken, TypedNumber.TryReadLength(typed, units, step, out var number, out var refusal));
        if (taken)
            Assert.Equal(typed, number.Text);
        else
            Assert.Contains("type exactly what the control shows", refusal, StringComparison.Ordinal);
    }

    static readonly Gen<string> Good = Gen.Select(
        Gen.Int[0, 2].Select(i => new[] { "", "-", "+" }[i]),
        Gen.String[Gen.Char['0', '9'], 0, 5],
        Gen.Bool,
        Gen.String[Gen.Char['0', '9'], 0, 6],
        (sign, whole, point, decimals) =>
            whole.Length == 0 && decimals.Length == 0 ? sign + "7"
            : whole.Length == 0 || point || decimals.Length > 0 ? $"{sign}{whole}.{decimals}"
            : sign + whole
    );

    [Fact]
    public void The_grammar_is_the_same_in_every_culture()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            foreach (var culture in CultureInfo.GetCultures(CultureTypes.AllCultures))
            {
                CultureInfo.CurrentCulture = culture;
                Assert.True(TypedNumber.TryRead("-1234.5", out var number, out _), culture.Name);
                Assert.Equal(-1234.5m, number.Value);
                Assert.False(TypedNumber.TryRead("1234,5", out _, out _), culture.Name);
                Assert.False(
                    TypedNumber.TryRead($"1{culture.NumberFormat.NumberGroupSeparator}234.5", out var grouped, out _)
                        && grouped.Value == 1234.5m
                        && culture.NumberFormat.NumberGroupSeparator.Length > 0,
                    culture.Name
                );
                Assert.True(
                    TypedNumber.TryRead("38.1250", 4, out var typed, out _) && typed.Text == "38.1250",
                    culture.Name
                );
            }
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void What_the_grammar_allows_is_read_as_exactly_that_decimal() =>
        Good.Sample(
            (Action<string>)(
                text =>
                {
                    Assert.True(TypedNumber.TryRead(text, out var number, out var refusal), refusal);
                    // Worked out digit by digit, apart from the code under test.
                    var (value, scale, point) = (0m, 1m, false);
                    foreach (var c in text)
                    {
                        if (c == '.')
                            point = true;
                        if (!char.IsAsciiDigit(c))
                            continue;
                        value = value * 10 + (c - '0');
                        if (point)
                            scale *= 10;
                    }
                    Assert.Equal((text[0] == '-' ? -value : value) / scale, number.Value);
                }
            )
        );

    [Fact]
    public void Text_outside_the_grammar_is_refused() =>
        Gen.String[Gen.Char["0123456789.,+-eE xX\u2212١"], 0, 14]
            .Sample(
                (Action<string>)(
                    text =>
                    {
                        var fits = System.Text.RegularExpressions.Regex.IsMatch(
                            text,
                            "^[+-]?(?:[0-9]{1,5}(?:\\.[0-9]{0,6})?|\\.[0-9]{1,6})\\z",
                            System.Text.RegularExpressions.RegexOptions.CultureInvariant,
                            TimeSpan.FromSeconds(1)
                        );
                        Assert.Equal(fits, TypedNumber.TryRead(text, out _, out _));
                    }
                ),
                iter: 20_000
            );
}
