namespace Handwheel.Jobs.Checking.Material;

/// <summary>
/// Where over the rows of a grid a moving tool must be looked at: its swept outline, less what the tool has already cut where the move
/// starts. All places are seen from the start of the move, nm; a span may be too wide, never too narrow.
/// </summary>
readonly struct SweptOutline
{
    /// <summary>What lies this near to the edge of what is cut is looked at again, nm: more than the rounding of the undersides.</summary>
    const double Margin = 1000;

    readonly StraightMove move;
    readonly double radius;
    readonly double perAlongX;

    /// <summary>Points that lie no further along the move than this were cut as low as they will be where the move starts.</summary>
    readonly double behind;

    /// <summary>So were those nearer than this to the start.</summary>
    readonly double within;

    public SweptOutline(in StraightMove move, in ToolShape shape, bool startIsCut)
    {
        this.move = move;
        radius = shape.Radius;
        behind = double.NegativeInfinity;
        if (!startIsCut || move.Length <= 0)
            return;
        behind = Behind(shape, move) - Margin;
        perAlongX = 1 / move.AlongX;
        var flat =
            shape.ConeSlope > 0
                ? move.Slope >= shape.ConeSlope
                    ? radius
                    : 0
                : shape.Radius - shape.CornerRadius;
        within = move.Slope >= 0 ? Math.Max(0, flat - Margin) : 0;
    }

    /// <summary>
    /// Climbing or level, the underside is lowest over a point behind the start when the tool is at the start. Going down it is so only
    /// for points further back than the place where the underside rises as steeply as the move falls.
    /// </summary>
    static double Behind(in ToolShape shape, in StraightMove move)
    {
        if (move.Slope >= 0)
            return 0;
        if (shape.ConeSlope > 0)
            return double.NegativeInfinity;
        return -(shape.Radius - shape.CornerRadius) + shape.CornerRadius * move.Slope / move.Stretch;
    }

    /// <summary>The span of a row <paramref name="y"/> from the start; empty where high is below low.</summary>
    public (double Low, double High) Row(double y)
    {
        var (low, high) = (double.PositiveInfinity, double.NegativeInfinity);
        Disc(0, y, ref low, ref high);
        Disc(move.DeltaX, y - move.DeltaY, ref low, ref high);
        if (move.DeltaY != 0)
        {
            Side(1, y, ref low, ref high);
            Side(-1, y, ref low, ref high);
        }
        return Cut(y, low, high);
    }

    /// <summary>The line across the rows behind which all was cut: its X at Y0 and per unit of Y, and on which side what is left begins. False: no such line.</summary>
    public bool TryEdge(out double atY0, out double perY, out bool isLow)
    {
        (atY0, perY, isLow) = (behind * perAlongX, -move.AlongY * perAlongX, move.AlongX > 0);
        return double.IsFinite(behind) && move.AlongX != 0;
    }

    /// <summary>Takes off a span what was cut before.</summary>
    (double Low, double High) Cut(double y, double low, double high)
    {
        if (double.IsNegativeInfinity(behind))
            return (low, high);
        var edge = behind - y * move.AlongY;
        if (move.AlongX > 0)
            low = Math.Max(low, edge * perAlongX);
        else if (move.AlongX < 0)
            high = Math.Min(high, edge * perAlongX);
        else if (edge >= 0)
            return (0, -1);
        var squared = within * within - y * y;
        if (squared <= 0)
            return (low, high);
        var half = Math.Sqrt(squared);
        if (Math.Abs(low) <= half)
            low = half;
        if (Math.Abs(high) <= half)
            high = -half;
        return (low, high);
    }

    void Disc(double x, double y, ref double low, ref double high)
    {
        var squared = radius * radius - y * y;
        if (squared < 0)
            return;
        var half = Math.Sqrt(squared);
        low = Math.Min(low, x - half);
        high = Math.Max(high, x + half);
    }

    void Side(int hand, double y, ref double low, ref double high)
    {
        var share = (y - hand * move.AlongX * radius) / move.DeltaY;
        if (share is not (>= 0 and <= 1))
            return;
        var x = share * move.DeltaX - hand * move.AlongY * radius;
        low = Math.Min(low, x);
        high = Math.Max(high, x);
    }
}
