namespace Handwheel.Nc;

/// <summary>Circles from a program's words. All lengths in nm, measured from the start of the arc unless said otherwise.</summary>
static class ArcGeometry
{
    /// <summary>The centre of the arc with radius <paramref name="radius"/> to (endU, endV): up to half a turn, or more when it is negative.</summary>
    public static (double U, double V) CentreByRadius(double endU, double endV, double radius, bool clockwise)
    {
        var chord = Math.Sqrt(endU * endU + endV * endV);
        var height = Math.Sqrt(Math.Max(0, radius * radius - chord * chord / 4));
        // The centre lies left of the chord for a short counterclockwise arc.
        var left = clockwise == radius < 0 ? height : -height;
        return (endU / 2 - left * endV / chord, endV / 2 + left * endU / chord);
    }

    /// <summary>
    /// The arc around (centreU, centreV). Ends that are the same are a full circle. <paramref name="across"/> is how far the third axis goes.
    /// </summary>
    public static Arc Around(
        Plane plane,
        bool clockwise,
        (long U, long V) start,
        (long U, long V) end,
        (double U, double V) centre,
        double across
    )
    {
        var arc = From(plane, start, centre);
        arc.Sweep = Sweep(
            arc.StartAngle,
            end.U - start.U - centre.U,
            end.V - start.V - centre.V,
            clockwise,
            start == end
        );
        Measure(ref arc, start, end, across);
        return arc;
    }

    /// <summary>The arc in the XY plane that turns by <paramref name="sweep"/> around (centreU, centreV) to <paramref name="end"/>.</summary>
    public static Arc Along(
        (long U, long V) start,
        (long U, long V) end,
        (double U, double V) centre,
        double sweep,
        double across
    )
    {
        var arc = From(Plane.XY, start, centre);
        arc.Sweep = sweep;
        Measure(ref arc, start, end, across);
        return arc;
    }

    static Arc From(Plane plane, (long U, long V) start, (double U, double V) centre) =>
        new()
        {
            Plane = plane,
            CentreU = start.U + centre.U,
            CentreV = start.V + centre.V,
            Radius = Math.Sqrt(centre.U * centre.U + centre.V * centre.V),
            StartAngle = Math.Atan2(-centre.V, -centre.U),
        };

    static void Measure(ref Arc arc, (long U, long V) start, (long U, long V) end, double across)
    {
        var planar = arc.Radius * arc.Sweep;
        arc.Length = Math.Sqrt(planar * planar + across * across);
        SetExtremes(ref arc, start, end);
    }

    static double Sweep(double startAngle, double toEndU, double toEndV, bool clockwise, bool full)
    {
        if (full)
            return clockwise ? -Math.Tau : Math.Tau;
        var sweep = Math.Atan2(toEndV, toEndU) - startAngle;
        if (clockwise && sweep >= 0)
            sweep -= Math.Tau;
        else if (!clockwise && sweep <= 0)
            sweep += Math.Tau;
        return sweep;
    }

    static void SetExtremes(ref Arc arc, (long U, long V) start, (long U, long V) end)
    {
        arc.MinU = Math.Min(start.U, end.U);
        arc.MaxU = Math.Max(start.U, end.U);
        arc.MinV = Math.Min(start.V, end.V);
        arc.MaxV = Math.Max(start.V, end.V);
        if (Passes(arc, 0))
            arc.MaxU = Math.Max(arc.MaxU, (long)Math.Round(arc.CentreU + arc.Radius));
        if (Passes(arc, Math.PI / 2))
            arc.MaxV = Math.Max(arc.MaxV, (long)Math.Round(arc.CentreV + arc.Radius));
        if (Passes(arc, Math.PI))
            arc.MinU = Math.Min(arc.MinU, (long)Math.Round(arc.CentreU - arc.Radius));
        if (Passes(arc, -Math.PI / 2))
            arc.MinV = Math.Min(arc.MinV, (long)Math.Round(arc.CentreV - arc.Radius));
    }

    static bool Passes(in Arc arc, double angle)
    {
        var from = angle - arc.StartAngle;
        if (arc.Sweep < 0)
        {
            if (from > 0)
                from -= Math.Tau;
            return from >= arc.Sweep;
        }
        if (from < 0)
            from += Math.Tau;
        return from <= arc.Sweep;
    }
}
