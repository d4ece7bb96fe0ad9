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
            (AlongX, AlongY, Slope, Start) = (
                DeltaX / Length,
                DeltaY / Length,
                (to.Z - from.Z) / Length,
                from.Z - bottom
            );
        else
            (AlongX, Start) = (1, Lowest);
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

    /// <summary>Height of the tip at its lowest.</summary>
    public double Lowest { get; }
}
