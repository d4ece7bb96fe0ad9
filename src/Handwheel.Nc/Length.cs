using System.Globalization;

namespace Handwheel.Nc;

/// <summary>
/// A length as a whole number of nanometres, so that 5 inch decimals and 6 metric decimals are exact and equality
/// means equality. Range ±9.2e9 m; arithmetic past it throws <see cref="OverflowException"/>.
/// </summary>
public readonly record struct Length : IComparable<Length>
{
    Length(long nanometres) => Nanometres = nanometres;

    public long Nanometres { get; }

    public static Length Zero => default;

    public static Length FromNanometres(long nanometres) => new(nanometres);

    /// <summary>From a decimal in <paramref name="units"/>; more decimals than are exact round to the nearest nanometre.</summary>
    public static Length From(decimal value, Units units) =>
        new((long)decimal.Round(value * units.Nanometres(), MidpointRounding.AwayFromZero));

    /// <summary>The exact value in <paramref name="units"/>; an inch value of a metric length has up to 28 digits.</summary>
    public decimal In(Units units) => (decimal)Nanometres / units.Nanometres();

    public static Length operator +(Length a, Length b) => new(checked(a.Nanometres + b.Nanometres));

    public static Length operator -(Length a, Length b) => new(checked(a.Nanometres - b.Nanometres));

    public static Length operator -(Length a) => new(checked(-a.Nanometres));

    public static Length operator *(Length a, int times) => new(checked(a.Nanometres * times));

    public static bool operator <(Length a, Length b) => a.Nanometres < b.Nanometres;

    public static bool operator >(Length a, Length b) => a.Nanometres > b.Nanometres;

    public static bool operator <=(Length a, Length b) => a.Nanometres <= b.Nanometres;

    public static bool operator >=(Length a, Length b) => a.Nanometres >= b.Nanometres;

    public static Length Abs(Length a) => new(Math.Abs(a.Nanometres));

    public static Length Min(Length a, Length b) => a <= b ? a : b;

    public static Length Max(Length a, Length b) => a >= b ? a : b;

    public int CompareTo(Length other) => Nanometres.CompareTo(other.Nanometres);

    /// <summary>The value with exactly <paramref name="decimals"/> decimals, whatever the culture: <c>-11.2350</c>.</summary>
    public string ToString(Units units, int decimals) =>
        decimal.Round(In(units), decimals, MidpointRounding.AwayFromZero)
            .ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>The value with the decimals of a control's register, without the unit: <c>-11.2350</c> in inch, <c>38.000</c> in mm.</summary>
    public string ToRegisterText(Units units) => ToString(units, units.RegisterDecimals());

    /// <summary>Millimetres, for debugging only.</summary>
    public override string ToString() => In(Units.Millimetre).ToString(CultureInfo.InvariantCulture) + " mm";
}
