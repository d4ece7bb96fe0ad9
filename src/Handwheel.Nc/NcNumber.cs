namespace Handwheel.Nc;

/// <summary>
/// A number of a program. A written one is mantissa / 10^decimals, exactly; one that was computed from an expression is a double.
/// </summary>
struct NcNumber
{
    /// <summary>More digits than this are no number of a program.</summary>
    public const int DigitsMost = 15;

    /// <summary>No length of a program is larger: 100 km. Keeps every sum far from overflow.</summary>
    public const long LengthMost = 100_000_000_000_000;

    public static readonly long[] PowersOfTen = MakePowers();

    public long Mantissa;
    public int Decimals;
    public bool HasPoint;
    public bool Computed;
    public double ComputedValue;

    /// <summary>As in <see cref="ParameterValue"/>; 0 for a written number.</summary>
    public double Raise;

    /// <summary>Column of its address in the line, from 1.</summary>
    public int Column;

    public readonly double Value => Computed ? ComputedValue : (double)Mantissa / PowersOfTen[Decimals];

    /// <summary>The length in nm, rounded to the nearest; <paramref name="increment"/> is what a number without a point counts, 0 for whole units.</summary>
    public readonly long Nanometres(long unit, long increment)
    {
        if (Computed)
            return (long)Math.Clamp(Math.Round(ComputedValue * unit), -LengthMost, LengthMost);
        if (!HasPoint && increment != 0)
            return Clamp((Int128)Mantissa * increment);
        var power = PowersOfTen[Decimals];
        if (unit % power == 0 && Math.Abs(Mantissa) < 1_000_000)
            return Mantissa * (unit / power);
        var product = (Int128)Mantissa * unit;
        var half = product < 0 ? -power / 2 : power / 2;
        return Clamp((product + half) / power);
    }

    /// <summary>The whole number that this is, within 0.0001 for a computed one (NISTIR 6556, 3.3.2.1).</summary>
    public readonly bool IsWhole(out int whole)
    {
        whole = 0;
        if (Decimals == 0 && !Computed && Math.Abs(Mantissa) <= 999_999_999)
        {
            whole = (int)Mantissa;
            return true;
        }
        var value = Value;
        var nearest = Math.Round(value);
        if (Math.Abs(value - nearest) > (Computed ? 0.0001 : 0) || Math.Abs(nearest) > 999_999_999)
            return false;
        whole = (int)nearest;
        return true;
    }

    public readonly bool IsZero => Computed ? ComputedValue == 0 : Mantissa == 0;

    static long Clamp(Int128 value) =>
        value > LengthMost ? LengthMost
        : value < -LengthMost ? -LengthMost
        : (long)value;

    static long[] MakePowers()
    {
        var powers = new long[DigitsMost + 1];
        powers[0] = 1;
        for (var i = 1; i < powers.Length; i++)
            powers[i] = powers[i - 1] * 10;
        return powers;
    }
}
