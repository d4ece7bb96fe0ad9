namespace Handwheel.Jobs.Checking.Clearance;

/// <summary>A contact of a moving cylinder with a solid.</summary>
/// <param name="Inside">How far the outline of the cylinder is inside the outline of the solid, seen from above, nm.</param>
/// <param name="Below">How far the tip is below the top of the solid, nm.</param>
readonly record struct Contact(double Inside, double Below);

/// <summary>A point of the tip's path, nm, setup space.</summary>
readonly record struct TipPoint(double X, double Y, double Z)
{
    public TipPoint Up(double by) => new(X, Y, Z + by);
}

/// <summary>
/// An upright cylinder, with a corner radius or without, that reaches from the tip up without end, moved along a straight line, against an
/// upright box or cylinder: solved or narrowed, not sampled. Touching is no contact.
/// </summary>
static class SweptCylinder
{
    /// <summary>Contacts shallower than this are rounding, nm.</summary>
    const double Touching = 1;

    const int Narrowings = 60;

    public static Contact? Against(Solid solid, TipPoint from, TipPoint to, double radius, double corner = 0)
    {
        var lowest = Math.Min(from.Z, to.Z);
        if (lowest >= solid.Top - Touching || Outside(solid, from, to, radius))
            return null;
        var (start, end) = BelowTop(from, to, solid.Top);
        if (corner > 0)
            return Rounded(solid, start, end, radius, corner) is var within && within > Touching
                ? new Contact(within, solid.Top - lowest)
                : null;
        var distance = solid.Round
            ? PointToSegment(solid.CentreX, solid.CentreY, start, end) - solid.Radius
            : BoxToSegment(solid, start, end);
        var inside = radius - Math.Max(0, distance);
        return inside > Touching ? new Contact(inside, solid.Top - lowest) : null;
    }

    /// <summary>
    /// How far the outline of the cylinder at the height of the top gets inside the outline of the solid. Along the move that is a concave
    /// function (a corner seen from its middle, less a distance), so its largest value is found by narrowing.
    /// </summary>
    static double Rounded(Solid solid, TipPoint start, TipPoint end, double radius, double corner)
    {
        double low = 0,
            high = 1;
        for (var i = 0; i < Narrowings && start != end; i++)
        {
            var third = (high - low) / 3;
            if (Inside(low + third) >= Inside(high - third))
                high -= third;
            else
                low += third;
        }
        return Math.Max(Inside((low + high) / 2), Math.Max(Inside(0), Inside(1)));

        double Inside(double share)
        {
            var below = solid.Top - (start.Z + (end.Z - start.Z) * share);
            var up = Math.Max(0, corner - below);
            var reach = radius - corner + Math.Sqrt(Math.Max(0, corner * corner - up * up));
            var (x, y) = (start.X + (end.X - start.X) * share, start.Y + (end.Y - start.Y) * share);
            return reach - solid.Distance(x, y);
        }
    }

    static bool Outside(Solid solid, TipPoint from, TipPoint to, double radius) =>
        Math.Max(from.X, to.X) <= solid.MinX - radius
        || Math.Min(from.X, to.X) >= solid.MaxX + radius
        || Math.Max(from.Y, to.Y) <= solid.MinY - radius
        || Math.Min(from.Y, to.Y) >= solid.MaxY + radius;

    /// <summary>The part of the path on which the tip is below the top.</summary>
    static (TipPoint Start, TipPoint End) BelowTop(TipPoint from, TipPoint to, double top)
    {
        if (from.Z < top && to.Z < top)
            return (from, to);
        var crossing = (top - from.Z) / (to.Z - from.Z);
        var at = new TipPoint(from.X + (to.X - from.X) * crossing, from.Y + (to.Y - from.Y) * crossing, top);
        return from.Z < top ? (from, at) : (at, to);
    }

    static double BoxToSegment(Solid box, TipPoint start, TipPoint end)
    {
        if (Enters(box, start, end))
            return 0;
        var nearest = Math.Min(box.Distance(start.X, start.Y), box.Distance(end.X, end.Y));
        nearest = Math.Min(nearest, PointToSegment(box.MinX, box.MinY, start, end));
        nearest = Math.Min(nearest, PointToSegment(box.MinX, box.MaxY, start, end));
        nearest = Math.Min(nearest, PointToSegment(box.MaxX, box.MinY, start, end));
        return Math.Min(nearest, PointToSegment(box.MaxX, box.MaxY, start, end));
    }

    /// <summary>The segment has a point in the outline of the box (clipping by slabs).</summary>
    static bool Enters(Solid box, TipPoint start, TipPoint end)
    {
        double first = 0,
            last = 1;
        return Clip(start.X, end.X - start.X, box.MinX, box.MaxX, ref first, ref last)
            && Clip(start.Y, end.Y - start.Y, box.MinY, box.MaxY, ref first, ref last);
    }

    static bool Clip(double start, double delta, double low, double high, ref double first, ref double last)
    {
        if (delta == 0)
            return start >= low && start <= high;
        var a = (low - start) / delta;
        var b = (high - start) / delta;
        first = Math.Max(first, Math.Min(a, b));
        last = Math.Min(last, Math.Max(a, b));
        return first <= last;
    }

    static double PointToSegment(double x, double y, TipPoint start, TipPoint end)
    {
        var dx = end.X - start.X;
        var dy = end.Y - start.Y;
        var squared = dx * dx + dy * dy;
        var share = squared == 0 ? 0 : Math.Clamp(((x - start.X) * dx + (y - start.Y) * dy) / squared, 0, 1);
        var px = start.X + dx * share - x;
        var py = start.Y + dy * share - y;
        return Math.Sqrt(px * px + py * py);
    }
}
