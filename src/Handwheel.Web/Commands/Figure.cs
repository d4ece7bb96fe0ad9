namespace Handwheel.Web.Commands;

/// <summary>Computed figures as they are printed: at most six decimals, no trailing zeros.</summary>
static class Figure
{
    const int DecimalsMost = 6;

    public static decimal Shortest(decimal value) =>
        decimal.Round(value, DecimalsMost, MidpointRounding.AwayFromZero) / 1.0000000000000000000000000000m;
}
