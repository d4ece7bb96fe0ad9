namespace Handwheel.Nc;

/// <summary>The functions of expressions (NISTIR 6556, 3.3.2.4), angles in degrees, with the short names in common use.</summary>
static class Functions
{
    const double Degree = Math.PI / 180;

    public static bool Knows(string name) =>
        name
            is "ABS"
                or "ACOS"
                or "ACS"
                or "ASIN"
                or "ASN"
                or "ATAN"
                or "ATN"
                or "COS"
                or "EXP"
                or "FIX"
                or "FUP"
                or "LN"
                or "ROUND"
                or "RND"
                or "SIN"
                or "SQRT"
                or "SQR"
                or "TAN"
                or "POW"
                or "BIN"
                or "BCD";

    /// <summary>May have a second value behind a comma.</summary>
    public static bool TakesTwo(string name) => name is "ATAN" or "ATN" or "POW";

    /// <summary>Null where the function has no value there.</summary>
    public static double? Of(string name, double a, double? b, Reads reads)
    {
        var value = name switch
        {
            "ABS" => Math.Abs(a),
            "ACOS" or "ACS" => Math.Acos(a) / Degree,
            "ASIN" or "ASN" => Math.Asin(a) / Degree,
            "ATAN" or "ATN" => (b is { } x ? Math.Atan2(a, x) : Math.Atan(a)) / Degree,
            "COS" => Math.Cos(a * Degree),
            "EXP" => Math.Exp(a),
            "FIX" => reads.FixIsTowardZero ? Math.Truncate(Near(a)) : Math.Floor(Near(a)),
            "FUP" => reads.FixIsTowardZero && a < 0 ? Math.Floor(Near(a)) : Math.Ceiling(Near(a)),
            "LN" => a > 0 ? Math.Log(a) : double.NaN,
            "ROUND" or "RND" => Math.Round(a, MidpointRounding.AwayFromZero),
            "SIN" => Math.Sin(a * Degree),
            "SQRT" or "SQR" => Math.Sqrt(a),
            "TAN" => Math.Abs(Math.Cos(a * Degree)) < 1e-12 ? double.NaN : Math.Tan(a * Degree),
            "POW" => b is { } power ? Math.Pow(a, power) : double.NaN,
            "BIN" => FromDecimals(a),
            _ => ToDecimals(a),
        };
        return double.IsFinite(value) ? value : null;
    }

    /// <summary>A value that is whole but for the last binary digit, as the whole number it would be in decimals.</summary>
    static double Near(double value) => Math.Abs(value - Math.Round(value)) < 1e-9 ? Math.Round(value) : value;

    static double FromDecimals(double value)
    {
        if (value is < 0 or > uint.MaxValue)
            return double.NaN;
        double result = 0;
        var rest = (uint)value;
        for (double place = 1; rest != 0; place *= 10, rest >>= 4)
        {
            if ((rest & 15) > 9)
                return double.NaN;
            result += (rest & 15) * place;
        }
        return result;
    }

    static double ToDecimals(double value)
    {
        if (value is < 0 or > 99_999_999)
            return double.NaN;
        double result = 0;
        var rest = (int)value;
        for (double place = 1; rest != 0; place *= 16, rest /= 10)
            result += rest % 10 * place;
        return result;
    }
}
