using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>The block that goes under the tip, and the feeler for the rest: <c>3.0000 + 0.2500</c>.</summary>
static class GaugeBlocks
{
    static readonly int[] Inches = [6, 4, 3, 2, 1];
    static readonly int[] Millimetres = [150, 100, 75, 50, 25];

    /// <summary>Null: less air than the smallest block.</summary>
    public static string? For(Length air, Units units)
    {
        foreach (var size in units == Units.Inch ? Inches : Millimetres)
        {
            var block = Length.From(size, units);
            if (block <= air)
                return string.Create(
                    CultureInfo.InvariantCulture,
                    $"{block.ToRegisterText(units)} + {(air - block).ToRegisterText(units)}"
                );
        }
        return null;
    }
}
