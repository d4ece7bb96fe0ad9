using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>Turns nanometres into the setup's units: decimals for the document, words for people.</summary>
sealed class Figures(Units units)
{
    const int DecimalsMost = 6;

    readonly decimal nanometres = units.Nanometres();

    public Units Units => units;

    /// <summary>In the setup's units, at most 6 decimals.</summary>
    public decimal Out(long nm) => decimal.Round(nm / nanometres, DecimalsMost, MidpointRounding.AwayFromZero);

    public decimal? Out(long? nm) => nm is { } value ? Out(value) : null;

    /// <summary>Picometres in the setup's units, at most 6 decimals.</summary>
    public decimal FromPicometres(long pm) =>
        decimal.Round(pm / (nanometres * 1000), DecimalsMost, MidpointRounding.AwayFromZero);

    /// <summary>With the decimals of a register and the unit: <c>3.0000 in</c>.</summary>
    public string Say(long nm) => Bare(nm) + " " + units.Symbol();

    public string Say(double nm) => Say((long)Math.Round(nm));

    /// <summary>With the decimals of a register, without the unit.</summary>
    public string Bare(long nm) => Length.FromNanometres(nm).ToRegisterText(units);

    /// <summary>A rate given in nm per minute.</summary>
    public string Rate(double nmPerMinute) =>
        Plain((decimal)Math.Round(nmPerMinute / (double)nanometres, 4)) + " " + units.Symbol() + "/min";

    /// <summary>A number without needless zeros, whatever the culture.</summary>
    public static string Plain(decimal value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    public static string Whole(long value) => value.ToString(CultureInfo.InvariantCulture);

    /// <summary>In MiB where it is a whole number of them, else in bytes: <c>4 MiB</c>.</summary>
    public static string Bytes(long bytes) => WholeMiB(bytes) is { } whole ? whole + " MiB" : Whole(bytes) + " bytes";

    /// <summary>Null: not a whole number of MiB.</summary>
    public static string? WholeMiB(long bytes) =>
        bytes > 0 && bytes % (1024 * 1024) == 0 ? Whole(bytes / (1024 * 1024)) : null;
}
