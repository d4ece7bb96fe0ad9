using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Readings;

/// <summary>
/// A number that a person typed, in the one grammar that is the same everywhere and in every culture: an optional sign, then
/// up to five digits with an optional point and up to six decimals, or a point and one to six digits. No comma, no exponent,
/// no grouping, no unit, no spaces. The text is kept as it was typed.
/// </summary>
public readonly record struct TypedNumber
{
    const int DigitsMost = 5;
    const int DecimalsMost = 6;

    TypedNumber(string text, decimal value) => (Text, Value) = (text, value);

    /// <summary>As typed: <c>38.000</c> stays <c>38.000</c>.</summary>
    public string Text { get; }
    public decimal Value { get; }

    /// <summary>Exact: six decimals fit in nanometres in mm; in inch only five do, so ask <see cref="TryReadLength"/>.</summary>
    public Length In(Units units) => Length.From(Value, units);

    /// <summary>Reads <paramref name="typed"/>; a refusal says in words what to type instead.</summary>
    public static bool TryRead(string? typed, out TypedNumber number, [NotNullWhen(false)] out string? refusal) =>
        TryRead(typed, DecimalsMost, out number, out refusal);

    /// <summary>Reads the value of a register that steps in <paramref name="leastIncrement"/>; more decimals are refused, never rounded.</summary>
    public static bool TryReadLength(
        string? typed,
        Units units,
        Length leastIncrement,
        out TypedNumber number,
        [NotNullWhen(false)] out string? refusal
    ) => TryRead(typed, Math.Min(Decimals(leastIncrement.In(units)), units.ExactDecimals()), out number, out refusal);

    /// <summary>Reads a number with at most <paramref name="decimals"/> decimals by value; more are refused, never rounded.</summary>
    public static bool TryRead(
        string? typed,
        int decimals,
        out TypedNumber number,
        [NotNullWhen(false)] out string? refusal
    )
    {
        number = default;
        refusal = GrammarFault(typed);
        if (refusal is not null)
            return false;
        var value = decimal.Parse(
            typed!,
            NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture
        );
        if (Decimals(value) > decimals)
        {
            refusal = Said.In(
                $"{typed} has {Decimals(value)} decimals, the register has {decimals}: type exactly what the control shows"
            );
            return false;
        }
        number = new(typed!, value);
        return true;
    }

    /// <summary>Decimals that the value needs, trailing zeros aside: 2 for 12.250, 0 for 100.</summary>
    public static int Decimals(decimal value)
    {
        var decimals = 0;
        for (; decimals < 28 && decimal.Truncate(value) != value; decimals++)
            value *= 10;
        return decimals;
    }

    static string? GrammarFault(string? typed)
    {
        if (string.IsNullOrEmpty(typed))
            return Said.In("nothing was typed: type the number that the control shows, for example -12.1250");
        foreach (var c in typed)
            if (!char.IsAsciiDigit(c) && c is not ('.' or '-' or '+'))
                return CharacterFault(typed, c);
        var digits = typed.AsSpan(typed[0] is '-' or '+' ? 1 : 0);
        if (digits.IndexOfAny('-', '+') >= 0)
            return Said.In($"{typed} has a sign in the wrong place: at most one, before the first digit");
        var point = digits.IndexOf('.');
        if (point >= 0 && digits[(point + 1)..].Contains('.'))
            return Said.In($"{typed} has more than one point: type one point before the decimals");
        var whole = point < 0 ? digits.Length : point;
        var decimals = point < 0 ? 0 : digits.Length - point - 1;
        if (whole + decimals == 0)
            return Said.In($"{typed} has no digit: type the number that the control shows, for example -12.1250");
        if (whole > DigitsMost)
            return Said.In($"{typed} has more than {DigitsMost} digits before the point: is the point missing?");
        if (decimals > DecimalsMost)
            return Said.In($"{typed} has more than {DecimalsMost} decimals: type exactly what the control shows");
        return null;
    }

    static string CharacterFault(string typed, char c)
    {
        var shown = Shown(typed);
        return c switch
        {
            ',' => Said.In($"{shown} has a comma: type a point before the decimals and nothing between the thousands"),
            '\u2212' or '\u2013' or '\u2014' => Said.In(
                $"{shown} has a dash that is no minus sign: type the minus of the keyboard, -"
            ),
            'e' or 'E' when typed.Any(char.IsAsciiDigit) => Said.In(
                $"{shown} has an exponent: write all its digits, such as 0.001"
            ),
            _ when char.IsWhiteSpace(c) => Said.In($"{shown} has a space in it: type the number without spaces"),
            _ when char.IsDigit(c) => Said.In(
                $"{shown} has digits other than 0 to 9: type 0 to 9, a point and a sign only"
            ),
            _ when char.IsLetter(c) || c is '"' or '\'' or '″' or '′' => Said.In(
                $"{shown} is more than a number: type the number alone, without a unit or a letter"
            ),
            _ => Said.In($"{shown} is not a number: type digits, one point and a sign only, for example -12.1250"),
        };
    }

    static string Shown(string typed)
    {
        var text = typed.Length > 40 ? typed[..40] + "…" : typed;
        return '"' + string.Concat(text.Select(c => char.IsControl(c) || char.IsSurrogate(c) ? '?' : c)) + '"';
    }
}
