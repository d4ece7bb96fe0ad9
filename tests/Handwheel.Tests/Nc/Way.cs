using System.Numerics;
using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

/// <summary>A leg seen from above, a line or an arc in the XY plane; places are complex numbers, nm.</summary>
sealed record Way(Leg Leg, Arc? Arc, int Line)
{
    public Complex From => new(Leg.From.X, Leg.From.Y);
    public Complex To => new(Leg.To.X, Leg.To.Y);
    public double Length => Arc is { } arc ? arc.Radius * Math.Abs(arc.Sweep) : (To - From).Magnitude;

    /// <param name="share">0 is the start, 1 the end.</param>
    public Complex At(double share) =>
        Arc is { } arc
            ? new Complex(arc.CentreU, arc.CentreV)
                + Complex.FromPolarCoordinates(arc.Radius, arc.StartAngle + arc.Sweep * share)
            : From + (To - From) * share;

    /// <summary>From a place to the nearest point of the way.</summary>
    public double Distance(Complex place)
    {
        var ends = Math.Min((place - From).Magnitude, (place - To).Magnitude);
        if (Arc is { } arc)
        {
            var radial = place - new Complex(arc.CentreU, arc.CentreV);
            var turned = (radial.Phase - arc.StartAngle) * Math.Sign(arc.Sweep);
            turned -= Math.Floor(turned / Math.Tau) * Math.Tau;
            return turned <= Math.Abs(arc.Sweep) ? Math.Abs(radial.Magnitude - arc.Radius) : ends;
        }
        if (From == To)
            return ends;
        var along = (place - From) / (To - From);
        return along.Real is > 0 and < 1 ? Math.Abs(along.Imaginary) * Length : ends;
    }
}
