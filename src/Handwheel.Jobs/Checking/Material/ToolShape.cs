namespace Handwheel.Jobs.Checking.Material;

/// <summary>
/// The underside of a tool: how high it is above the tip at a distance from the axis. Convex for every kind, so that its lowest
/// place along a straight move is solved and not sampled. Lengths in nm.
/// </summary>
readonly struct ToolShape
{
    /// <summary>Half of 118°, the usual drill point; half of 90° for what spots and chamfers (common practice, no source).</summary>
    static readonly double DrillSlope = 1 / Math.Tan(59 * Math.PI / 180);
    const int Narrowings = 30;

    readonly double corner;
    readonly double cone;

    ToolShape(double radius, double corner, double cone) =>
        (Radius, this.corner, this.cone) = (radius, Math.Min(corner, radius), cone);

    public double Radius { get; }

    public static ToolShape Flat(double radius) => new(radius, 0, 0);

    public static ToolShape Ball(double radius) => new(radius, radius, 0);

    public static ToolShape Bull(double radius, double corner) => new(radius, corner, 0);

    /// <summary>A cone with its point at the tip; <paramref name="slope"/> is rise over radius.</summary>
    public static ToolShape Cone(double radius, double slope) => new(radius, 0, slope);

    public static ToolShape Drill(double radius) => Cone(radius, DrillSlope);

    /// <summary>By the kind that the setup gives; what is not known counts as flat, with its corner radius.</summary>
    public static ToolShape Of(Setups.Tool tool)
    {
        var radius = tool.Diameter!.Value.Nanometres / 2.0;
        return tool.Kind switch
        {
            "ball end mill" => Ball(radius),
            "drill" => Drill(radius),
            "spot drill" or "chamfer mill" or "countersink" or "centre drill" or "engraver" => Cone(radius, 1),
            _ => Bull(radius, tool.CornerRadius?.Nanometres ?? 0),
        };
    }

    /// <summary>Lifted by as much, it is inside this shape by that much everywhere.</summary>
    public ToolShape Inset(double by) => new(Radius - by, Math.Max(0, corner - by), cone);

    public double Above(double distance)
    {
        if (cone > 0)
            return cone * distance;
        var past = distance - (Radius - corner);
        return past <= 0 ? 0 : corner - Math.Sqrt(Math.Max(0, corner * corner - past * past));
    }

    /// <summary>
    /// The place <c>u</c> on a move, from <paramref name="low"/> to <paramref name="high"/>, at which the underside is lowest over a point
    /// that lies <paramref name="along"/> the move and <paramref name="beside"/> it; the tip climbs by <paramref name="slope"/>.
    /// </summary>
    public double LowestAt(double along, double beside, double slope, double low, double high)
    {
        if (slope == 0)
            return Math.Clamp(along, low, high);
        if (cone > 0)
        {
            if (Math.Abs(slope) >= cone)
                return slope > 0 ? low : high;
            return Math.Clamp(along - slope * beside / Math.Sqrt(cone * cone - slope * slope), low, high);
        }
        if (corner <= 0)
            return slope > 0 ? low : high;
        if (corner >= Radius)
        {
            var ring = Math.Sqrt(Math.Max(0, Radius * Radius - beside * beside));
            return Math.Clamp(along - slope * ring / Math.Sqrt(1 + slope * slope), low, high);
        }
        return Narrow(along, beside, slope, low, high);
    }

    double Narrow(double along, double beside, double slope, double low, double high)
    {
        for (var i = 0; i < Narrowings; i++)
        {
            var third = (high - low) / 3;
            if (Height(low + third, along, beside, slope) <= Height(high - third, along, beside, slope))
                high -= third;
            else
                low += third;
        }
        return (low + high) / 2;
    }

    double Height(double u, double along, double beside, double slope) =>
        slope * u + Above(Math.Sqrt(beside * beside + (u - along) * (u - along)));
}
