using System.Globalization;
using System.Numerics;

namespace Handwheel.Jobs.Setups;

/// <summary>A JSON number as the decimal that was written, never through binary floating point.</summary>
/// <param name="Number">The value; 0 where it has more decimals than any field may have.</param>
/// <param name="Decimals">Decimals that the value needs: trailing zeros do not count.</param>
readonly record struct ExactDecimal(decimal Number, int Decimals)
{
    const int CharactersMost = 200;
    const int ExponentMost = 1000;
    const int DecimalsMost = 12;
    static readonly BigInteger NumberMost = BigInteger.Pow(10, 15);

    /// <summary>Null where the value is out of every range (1e15 and more).</summary>
    public static ExactDecimal? Read(string token)
    {
        if (token.Length > CharactersMost)
            return null;
        var mark = token.AsSpan().IndexOfAny('e', 'E');
        var plain = mark < 0 ? token : token[..mark];
        var point = plain.IndexOf('.', StringComparison.Ordinal);
        var digits = BigInteger.Parse(
            plain.Replace(".", "", StringComparison.Ordinal),
            NumberStyles.AllowLeadingSign,
            CultureInfo.InvariantCulture
        );
        if (digits.IsZero)
            return new(0, 0);
        var power = mark < 0 ? 0 : Exponent(token.AsSpan(mark + 1));
        if (point >= 0)
            power -= plain.Length - point - 1;
        for (; digits % 10 == 0; digits /= 10)
            power++;
        if (power >= 0)
        {
            var whole = power > 15 ? NumberMost : digits * BigInteger.Pow(10, power);
            return BigInteger.Abs(whole) >= NumberMost ? null : new((decimal)whole, 0);
        }
        if (power < -CharactersMost)
            return new(0, -power);
        var scale = BigInteger.Pow(10, -power);
        if (BigInteger.Abs(digits) / scale >= NumberMost)
            return null;
        if (-power > DecimalsMost)
            return new(0, -power);
        var (quotient, rest) = (BigInteger.Divide(digits, scale), BigInteger.Remainder(digits, scale));
        return new((decimal)quotient + (decimal)rest / (decimal)scale, -power);
    }

    static int Exponent(ReadOnlySpan<char> text)
    {
        if (int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var power))
            return Math.Clamp(power, -ExponentMost, ExponentMost);
        return text[0] == '-' ? -ExponentMost : ExponentMost;
    }
}
