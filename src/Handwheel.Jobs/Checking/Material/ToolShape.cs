namespace Handwheel.Jobs.Checking.Material;

/// <summary>The underside of a tool: how high it is above the tip at a distance from the axis. Convex for every kind. Lengths in nm.</summary>
readonly record struct ToolShape
{
    /// <summary>Half of 118°, the usual drill point; half of 90° for what spots and chamfers (common practice, no source).</summary>
    static readonly double DrillSlope = 1 / Math.Tan(59 * Math.PI / 180);

    ToolShape(double radius, double corner, double slope) =>
        (Radius, CornerRadius, ConeSlope) = (radius, Math.Min(corner, radius), slope);

    public double Radius { get; }

    /// <summary>0: a sharp corner; the whole radius: a ball.</summary>
    public double CornerRadius { get; }

    /// <summary>Rise over radius of a cone with its point at the tip; 0: no cone.</summary>
    public double ConeSlope { get; }

    public static ToolShape Flat(double radius) => new(radius, 0, 0);

    public static ToolShape Ball(double radius) => new(radius, radius, 0);

    public static ToolShape Bull(double radius, double corner) => new(radius, corner, 0);

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
    public ToolShape Inset(double by) => new(Radius - by, Math.Max(0, CornerRadius - by), ConeSlope);

    public double Above(double distance)
    {
        if (ConeSlope > 0)
            return ConeSlope * distance;
        var past = distance - (Radius - CornerRadius);
        return past <= 0 ? 0 : CornerRadius - Math.Sqrt(Math.Max(0, CornerRadius * CornerRadius - past * past));
    }
}
