using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>Directions and points of an arc, helix included, with its axes back in the order X Y Z. Lengths in nm.</summary>
readonly struct ArcPath
{
    readonly Arc arc;
    readonly long startW;
    readonly double deltaW;

    public ArcPath(in Leg leg, in Arc arc)
    {
        this.arc = arc;
        (startW, var endW) = arc.Plane switch
        {
            Plane.XY => (leg.From.Z, leg.To.Z),
            Plane.ZX => (leg.From.Y, leg.To.Y),
            _ => (leg.From.X, leg.To.X),
        };
        deltaW = endW - startW;
    }

    public Tangent Start => Direction(arc.StartAngle);
    public Tangent End => Direction(arc.StartAngle + arc.Sweep);

    double Planar => arc.Length <= 0 ? 1 : arc.Radius * Math.Abs(arc.Sweep) / arc.Length;

    Tangent Direction(double angle)
    {
        var turn = Math.Sign(arc.Sweep) * Planar;
        return Ordered(-Math.Sin(angle) * turn, Math.Cos(angle) * turn, arc.Length <= 0 ? 0 : deltaW / arc.Length);
    }

    /// <summary>The point at a share of the arc, 0 to 1, in machine coordinates.</summary>
    public Tangent PointAt(double share)
    {
        var angle = arc.StartAngle + arc.Sweep * share;
        return Ordered(
            arc.CentreU + arc.Radius * Math.Cos(angle),
            arc.CentreV + arc.Radius * Math.Sin(angle),
            startW + deltaW * share
        );
    }

    /// <summary>Chords that deviate from the arc by no more than <paramref name="deviation"/>.</summary>
    public int Chords(double deviation)
    {
        if (arc.Radius <= deviation)
            return 4;
        var step = 2 * Math.Acos(1 - deviation / arc.Radius);
        return Math.Max(1, (int)Math.Min(1e6, Math.Ceiling(Math.Abs(arc.Sweep) / step)));
    }

    /// <summary>The speed along the arc at which the first axis reaches its rate somewhere on it.</summary>
    public double SpeedLimit(in Rates rates)
    {
        var (u, v, w) = InPlane(rates);
        var limit = double.PositiveInfinity;
        var sine = Most(0) * Planar;
        var cosine = Most(Math.PI / 2) * Planar;
        if (sine > 0)
            limit = Math.Min(limit, u / sine);
        if (cosine > 0)
            limit = Math.Min(limit, v / cosine);
        return deltaW == 0 ? limit : Math.Min(limit, w * arc.Length / Math.Abs(deltaW));
    }

    public double Acceleration(in Rates rates)
    {
        var (u, v, w) = InPlane(rates);
        var least = Math.Min(u, v);
        return deltaW == 0 ? least : Math.Min(least, w);
    }

    /// <summary>Largest |sin(angle + phase)| on the arc.</summary>
    double Most(double phase)
    {
        var a = arc.StartAngle + phase;
        var b = a + arc.Sweep;
        var (low, high) = a < b ? (a, b) : (b, a);
        var turns = Math.Ceiling((low - Math.PI / 2) / Math.PI);
        return turns * Math.PI + Math.PI / 2 <= high ? 1 : Math.Max(Math.Abs(Math.Sin(a)), Math.Abs(Math.Sin(b)));
    }

    (double U, double V, double W) InPlane(in Rates rates) =>
        arc.Plane switch
        {
            Plane.XY => (rates.X, rates.Y, rates.Z),
            Plane.ZX => (rates.Z, rates.X, rates.Y),
            _ => (rates.Y, rates.Z, rates.X),
        };

    Tangent Ordered(double u, double v, double w) =>
        arc.Plane switch
        {
            Plane.XY => new(u, v, w),
            Plane.ZX => new(v, w, u),
            _ => new(w, u, v),
        };
}
