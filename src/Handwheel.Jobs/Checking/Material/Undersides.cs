using System.Numerics;
using System.Runtime.CompilerServices;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>
/// The underside of a moving tool at its lowest over several points at once, solved and not sampled. Points are given by how far they lie
/// along the move and beside it. Lengths in nm as 32-bit floats: heights are good to some nm, the rim of the tool to some nm.
/// </summary>
interface IUnderside
{
    /// <summary>
    /// Heights of the underside, and of the tip at that moment, where the tool comes over a point. False: it comes over none that is
    /// higher than <paramref name="height"/> allows.
    /// </summary>
    bool Over(
        Vector<float> along,
        Vector<float> beside,
        Vector<float> height,
        out Vector<float> tip,
        out Vector<float> under,
        out Vector<int> reached
    );
}

/// <summary>A flat underside that stays level, or goes straight down.</summary>
readonly struct LevelFlat(in StraightMove move, in ToolShape shape) : IUnderside
{
    readonly Vector<float> level = new((float)move.Lowest);
    readonly Vector<float> length = new((float)move.Length);
    readonly Vector<float> radiusSquared = new((float)(shape.Radius * shape.Radius));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool Over(
        Vector<float> along,
        Vector<float> beside,
        Vector<float> height,
        out Vector<float> tip,
        out Vector<float> under,
        out Vector<int> reached
    )
    {
        tip = under = level;
        var past = along - Vector.ClampNative(along, Vector<float>.Zero, length);
        reached = Vector.LessThanOrEqual(past * past + beside * beside, radiusSquared);
        return Vector.GreaterThanAny(height, level);
    }
}

/// <summary>A flat underside on a slope: lowest over a point at one end of the time that it is over it.</summary>
readonly struct SlopingFlat(in StraightMove move, in ToolShape shape) : IUnderside
{
    readonly bool climbs = move.Slope > 0;
    readonly Vector<float> start = new((float)move.Start);
    readonly Vector<float> slope = new((float)move.Slope);
    readonly Vector<float> length = new((float)move.Length);
    readonly Vector<float> lowest = new((float)move.Lowest);
    readonly Vector<float> radiusSquared = new((float)(shape.Radius * shape.Radius));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool Over(
        Vector<float> along,
        Vector<float> beside,
        Vector<float> height,
        out Vector<float> tip,
        out Vector<float> under,
        out Vector<int> reached
    )
    {
        Unsafe.SkipInit(out tip);
        Unsafe.SkipInit(out under);
        Unsafe.SkipInit(out reached);
        if (!Vector.GreaterThanAny(height, lowest))
            return false;
        var left = radiusSquared - beside * beside;
        var half = Vector.SquareRoot(Vector.MaxNative(left, Vector<float>.Zero));
        var low = Vector.MaxNative(along - half, Vector<float>.Zero);
        var high = Vector.MinNative(along + half, length);
        reached = Vector.GreaterThanOrEqual(left, Vector<float>.Zero) & Vector.LessThanOrEqual(low, high);
        tip = under = start + slope * (climbs ? low : high);
        return true;
    }
}

/// <summary>
/// A ball: along the whole line it sweeps a cylinder of its radius, so that its lowest place over a point is radius·slope/√(1+slope²)
/// scaled by how far the point is beside; at the ends it is the ball itself.
/// </summary>
readonly struct BallUnderside(in StraightMove move, in ToolShape shape) : IUnderside
{
    readonly Vector<float> start = new((float)move.Start);
    readonly Vector<float> slope = new((float)move.Slope);
    readonly Vector<float> length = new((float)move.Length);
    readonly Vector<float> back = new((float)(move.Slope / move.Stretch));
    readonly Vector<float> stretchSquared = new((float)(move.Stretch * move.Stretch));
    readonly Vector<float> radius = new((float)shape.Radius);
    readonly Vector<float> radiusSquared = new((float)(shape.Radius * shape.Radius));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool Over(
        Vector<float> along,
        Vector<float> beside,
        Vector<float> height,
        out Vector<float> tip,
        out Vector<float> under,
        out Vector<int> reached
    )
    {
        Unsafe.SkipInit(out tip);
        Unsafe.SkipInit(out under);
        Unsafe.SkipInit(out reached);
        var ringSquared = radiusSquared - beside * beside;
        // over the cylinder's lowest place by more than there is? compared as squares, since a root takes as long as all the rest
        var over = start + radius + slope * along - height;
        var reach = Vector.MaxNative(ringSquared, Vector<float>.Zero) * stretchSquared;
        if (!Vector.GreaterThanAny(reach, over * Vector.Abs(over)))
            return false;
        var ring = Vector.SquareRoot(Vector.MaxNative(ringSquared, Vector<float>.Zero));
        var at = Vector.ClampNative(along - back * ring, Vector<float>.Zero, length);
        var off = at - along;
        var left = ringSquared - off * off;
        reached = Vector.GreaterThanOrEqual(left, Vector<float>.Zero);
        tip = start + slope * at;
        under = tip + radius - Vector.SquareRoot(Vector.MaxNative(left, Vector<float>.Zero));
        return true;
    }
}

/// <summary>A cone with its point at the tip.</summary>
readonly struct ConeUnderside(in StraightMove move, in ToolShape shape) : IUnderside
{
    readonly bool steeper = Math.Abs(move.Slope) >= shape.ConeSlope;
    readonly bool climbs = move.Slope > 0;
    readonly Vector<float> start = new((float)move.Start);
    readonly Vector<float> slope = new((float)move.Slope);
    readonly Vector<float> length = new((float)move.Length);
    readonly Vector<float> lowest = new((float)move.Lowest);
    readonly Vector<float> cone = new((float)shape.ConeSlope);
    readonly Vector<float> back = new(
        (float)(move.Slope / Math.Sqrt(Math.Max(1e-12, shape.ConeSlope * shape.ConeSlope - move.Slope * move.Slope)))
    );
    readonly Vector<float> radiusSquared = new((float)(shape.Radius * shape.Radius));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool Over(
        Vector<float> along,
        Vector<float> beside,
        Vector<float> height,
        out Vector<float> tip,
        out Vector<float> under,
        out Vector<int> reached
    )
    {
        Unsafe.SkipInit(out tip);
        Unsafe.SkipInit(out under);
        Unsafe.SkipInit(out reached);
        if (!Vector.GreaterThanAny(height, lowest))
            return false;
        var left = radiusSquared - beside * beside;
        var half = Vector.SquareRoot(Vector.MaxNative(left, Vector<float>.Zero));
        var low = Vector.MaxNative(along - half, Vector<float>.Zero);
        var high = Vector.MinNative(along + half, length);
        reached = Vector.GreaterThanOrEqual(left, Vector<float>.Zero) & Vector.LessThanOrEqual(low, high);
        var at =
            !steeper ? Vector.ClampNative(along - back * Vector.Abs(beside), low, high)
            : climbs ? low
            : high;
        var off = at - along;
        tip = start + slope * at;
        under = tip + cone * Vector.SquareRoot(beside * beside + off * off);
        return true;
    }
}

/// <summary>A flat with a corner radius: on a slope its lowest place over a point is where the corner rises as steeply as the move falls, found by halving.</summary>
readonly struct BullUnderside(in StraightMove move, in ToolShape shape) : IUnderside
{
    const int Halvings = 20;

    readonly bool level = move.Slope == 0;
    readonly Vector<float> start = new((float)move.Start);
    readonly Vector<float> slope = new((float)move.Slope);
    readonly Vector<float> length = new((float)move.Length);
    readonly Vector<float> lowest = new((float)move.Lowest);
    readonly Vector<float> flat = new((float)(shape.Radius - shape.CornerRadius));
    readonly Vector<float> corner = new((float)shape.CornerRadius);
    readonly Vector<float> radiusSquared = new((float)(shape.Radius * shape.Radius));

    /// <summary>How far the underside over a point can be from the height of the line there, on a line without ends.</summary>
    readonly Vector<float> leastAboveLine = new(
        (float)(shape.CornerRadius * (1 - move.Stretch) - Math.Abs(move.Slope) * (shape.Radius - shape.CornerRadius))
    );

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool Over(
        Vector<float> along,
        Vector<float> beside,
        Vector<float> height,
        out Vector<float> tip,
        out Vector<float> under,
        out Vector<int> reached
    )
    {
        Unsafe.SkipInit(out tip);
        Unsafe.SkipInit(out under);
        Unsafe.SkipInit(out reached);
        var least = Vector.MaxNative(lowest, start + slope * along + leastAboveLine);
        if (!Vector.GreaterThanAny(height, least))
            return false;
        var left = radiusSquared - beside * beside;
        var half = Vector.SquareRoot(Vector.MaxNative(left, Vector<float>.Zero));
        var low = Vector.MaxNative(along - half, Vector<float>.Zero);
        var high = Vector.MinNative(along + half, length);
        reached = Vector.GreaterThanOrEqual(left, Vector<float>.Zero) & Vector.LessThanOrEqual(low, high);
        var at = level ? Vector.ClampNative(along, low, high) : Lowest(along, beside, low, high);
        var off = at - along;
        tip = start + slope * at;
        under = tip + Above(Vector.SquareRoot(beside * beside + off * off));
        return true;
    }

    Vector<float> Above(Vector<float> distance)
    {
        var past = Vector.MaxNative(distance - flat, Vector<float>.Zero);
        return corner - Vector.SquareRoot(Vector.MaxNative(corner * corner - past * past, Vector<float>.Zero));
    }

    Vector<float> Lowest(Vector<float> along, Vector<float> beside, Vector<float> low, Vector<float> high)
    {
        var besideSquared = beside * beside;
        for (var i = 0; i < Halvings; i++)
        {
            var middle = (low + high) * 0.5f;
            var off = middle - along;
            var distance = Vector.SquareRoot(besideSquared + off * off);
            var past = distance - flat;
            var rise = Vector.SquareRoot(Vector.MaxNative(corner * corner - past * past, Vector<float>.One));
            // the slope of corner and line together, times what is positive
            var onCorner = slope * rise * distance + past * off;
            var rises = Vector.ConditionalSelect(Vector.GreaterThan(past, Vector<float>.Zero), onCorner, slope);
            var isHigh = Vector.GreaterThan(rises, Vector<float>.Zero);
            high = Vector.ConditionalSelect(isHigh, middle, high);
            low = Vector.ConditionalSelect(isHigh, low, middle);
        }
        return (low + high) * 0.5f;
    }
}
