using Handwheel.Jobs.Checking.Clearance;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>A straight move seen from its start, with heights from the underside of the blank. Lengths in nm.</summary>
readonly struct StraightMove
{
    public StraightMove(TipPoint from, TipPoint to, double bottom)
    {
        (DeltaX, DeltaY) = (to.X - from.X, to.Y - from.Y);
        Length = Math.Sqrt(DeltaX * DeltaX + DeltaY * DeltaY);
        Lowest = Math.Min(from.Z, to.Z) - bottom;
        if (Length > 0)
        {
            var perLength = 1 / Length;
            (AlongX, AlongY) = (DeltaX * perLength, DeltaY * perLength);
            (Slope, Start) = ((to.Z - from.Z) * perLength, from.Z - bottom);
        }
        else
        {
            (AlongX, Start) = (1, Lowest);
        }
        Stretch = Slope == 0 ? 1 : Math.Sqrt(1 + Slope * Slope);
    }

    public double DeltaX { get; }
    public double DeltaY { get; }

    /// <summary>Seen from above; 0: upright, and then only its lowest place counts.</summary>
    public double Length { get; }
    public double AlongX { get; }
    public double AlongY { get; }

    /// <summary>Height of the tip at the start.</summary>
    public double Start { get; }

    /// <summary>Rise over length.</summary>
    public double Slope { get; }

    /// <summary>Way in space over <see cref="Length"/>: √(1 + slope²).</summary>
    public double Stretch { get; }

    /// <summary>Height of the tip at its lowest.</summary>
    public double Lowest { get; }
}
