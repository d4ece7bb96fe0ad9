namespace Handwheel.Nc;

/// <summary>The unit that lengths are written in: inch (25.4 mm exactly, NIST SP 811) or millimetre.</summary>
public enum Units : byte
{
    Inch,
    Millimetre,
}

public static class UnitsExtensions
{
    /// <summary>Nanometres in one unit: 25 400 000 for an inch, 1 000 000 for a millimetre.</summary>
    public static long Nanometres(this Units units) => units == Units.Inch ? 25_400_000 : 1_000_000;

    /// <summary>Decimals that a setup may give a length with: 5 in inch, 6 in millimetres; all of them are exact.</summary>
    public static int ExactDecimals(this Units units) => units == Units.Inch ? 5 : 6;

    /// <summary>Decimals that a control's register shows: 4 in inch, 3 in millimetres.</summary>
    public static int RegisterDecimals(this Units units) => units == Units.Inch ? 4 : 3;

    /// <summary>The symbol printed beside a value: <c>in</c> or <c>mm</c>.</summary>
    public static string Symbol(this Units units) => units == Units.Inch ? "in" : "mm";
}
