using Handwheel.Jobs.Checking.Clearance;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>What a tool met on one move. Lengths in nm, the volume in mm³.</summary>
struct Met
{
    /// <summary>Deepest that the underside went into the material, measured upright; 0: nothing was met.</summary>
    public double Depth;

    /// <summary>Highest material above the tip at the moment that it was met.</summary>
    public double AboveTip;
    public double Volume;
    public bool Any => Depth > 0;

    public void With(in Met other)
    {
        Depth = Math.Max(Depth, other.Depth);
        AboveTip = Math.Max(AboveTip, other.AboveTip);
        Volume += other.Volume;
    }
}

/// <summary>
/// The material of one blank as heights over a grid of points. At each point the height is exact, whatever the size of the grid: what
/// falls between two points is not seen, and nothing is seen that is not there.
/// </summary>
sealed class HeightMap
{
    readonly Solid stock;
    readonly float[] heights;
    readonly int columns;
    readonly int rows;
    readonly double stepX;
    readonly double stepY;

    /// <param name="grid">Distance of the points, nm, at most; the blank is divided evenly.</param>
    public HeightMap(Solid stock, double grid)
    {
        this.stock = stock;
        (columns, rows) = Size(stock, grid);
        stepX = (stock.MaxX - stock.MinX) / columns;
        stepY = (stock.MaxY - stock.MinY) / rows;
        heights = new float[columns * rows];
        Array.Fill(heights, (float)(stock.Top - stock.Bottom));
    }

    public static (int Columns, int Rows) Size(Solid stock, double grid) =>
        (
            (int)Math.Clamp(Math.Ceiling((stock.MaxX - stock.MinX) / grid), 1, 1_000_000),
            (int)Math.Clamp(Math.Ceiling((stock.MaxY - stock.MinY) / grid), 1, 1_000_000)
        );

    public static double Points(Solid stock, double grid)
    {
        var (columns, rows) = Size(stock, grid);
        return (double)columns * rows;
    }

    public double Top => stock.Top;

    /// <summary>Points that were looked at so far: what following has cost.</summary>
    public long Looks { get; private set; }

    /// <summary>What is left, mm³.</summary>
    public double Volume
    {
        get
        {
            var sum = 0.0;
            foreach (var height in heights)
                sum += height;
            return sum * stepX * stepY / 1e18;
        }
    }

    /// <summary>The height of the material at the grid point nearest to a place; null outside the blank.</summary>
    public double? HeightAt(double x, double y)
    {
        var i = (int)Math.Floor((x - stock.MinX) / stepX);
        var j = (int)Math.Floor((y - stock.MinY) / stepY);
        return i < 0 || j < 0 || i >= columns || j >= rows ? null : stock.Bottom + heights[j * columns + i];
    }

    /// <summary>Moves a shape along a straight line: cuts, or only looks what it would meet.</summary>
    public Met Move(TipPoint from, TipPoint to, in ToolShape shape, bool cut)
    {
        var met = new Met();
        if (Math.Min(from.Z, to.Z) >= stock.Top)
            return met;
        var (dx, dy) = (Math.Abs(to.X - from.X), Math.Abs(to.Y - from.Y));
        // a long move aslant in pieces, so that the rectangles around them stay small
        var pieces = (int)Math.Clamp(Math.Min(dx, dy) / Math.Max(shape.Radius * 2, stepX * 4), 1, 10_000);
        var start = from;
        for (var i = 1; i <= pieces; i++)
        {
            var share = (double)i / pieces;
            var end = new TipPoint(
                from.X + (to.X - from.X) * share,
                from.Y + (to.Y - from.Y) * share,
                from.Z + (to.Z - from.Z) * share
            );
            Piece(start, end, shape, cut, ref met);
            start = end;
        }
        return met;
    }

    void Piece(TipPoint from, TipPoint to, in ToolShape shape, bool cut, ref Met met)
    {
        var radius = shape.Radius;
        var firstColumn = Index(Math.Min(from.X, to.X) - radius - stock.MinX, stepX, columns);
        var lastColumn = Index(Math.Max(from.X, to.X) + radius - stock.MinX, stepX, columns) - 1;
        var firstRow = Index(Math.Min(from.Y, to.Y) - radius - stock.MinY, stepY, rows);
        var lastRow = Index(Math.Max(from.Y, to.Y) + radius - stock.MinY, stepY, rows) - 1;
        if (firstColumn > lastColumn || firstRow > lastRow)
            return;
        Looks += (long)(lastColumn - firstColumn + 1) * (lastRow - firstRow + 1);
        var line = new Straight(from, to, stock.Bottom);
        var volume = 0.0;
        for (var j = firstRow; j <= lastRow; j++)
        {
            var y = stock.MinY + (j + 0.5) * stepY - from.Y;
            var row = heights.AsSpan(j * columns, columns);
            for (var i = firstColumn; i <= lastColumn; i++)
            {
                double height = row[i];
                if (height <= line.Lowest || height <= 0)
                    continue;
                if (!line.Reaches(stock.MinX + (i + 0.5) * stepX - from.X, y, shape, out var tip, out var under))
                    continue;
                under = Math.Max(0, under);
                if (height <= under)
                    continue;
                met.Depth = Math.Max(met.Depth, height - under);
                met.AboveTip = Math.Max(met.AboveTip, height - tip);
                volume += height - under;
                if (cut)
                    row[i] = (float)under;
            }
        }
        met.Volume += volume * stepX * stepY / 1e18;
    }

    /// <summary>The first point at or past a distance from the edge.</summary>
    static int Index(double distance, double step, int count) =>
        (int)Math.Clamp(Math.Ceiling(distance / step - 0.5), 0, count);

    /// <summary>A straight move, with heights from the underside of the blank.</summary>
    readonly struct Straight
    {
        readonly double alongX;
        readonly double alongY;
        readonly double length;
        readonly double start;
        readonly double slope;

        public Straight(TipPoint from, TipPoint to, double bottom)
        {
            var (dx, dy) = (to.X - from.X, to.Y - from.Y);
            length = Math.Sqrt(dx * dx + dy * dy);
            Lowest = Math.Min(from.Z, to.Z) - bottom;
            start = from.Z - bottom;
            if (length <= 0)
            {
                start = Lowest;
                return;
            }
            (alongX, alongY) = (dx / length, dy / length);
            slope = (to.Z - from.Z) / length;
        }

        public double Lowest { get; }

        /// <summary>False: the tool never comes over the point. Else the tip and the underside where the underside is lowest over it.</summary>
        public bool Reaches(double x, double y, in ToolShape shape, out double tip, out double under)
        {
            tip = under = 0;
            var along = x * alongX + y * alongY;
            var besideSquared = Math.Max(0, x * x + y * y - along * along);
            var left = shape.Radius * shape.Radius - besideSquared;
            if (left < 0)
                return false;
            var half = Math.Sqrt(left);
            var low = Math.Max(0, along - half);
            var high = Math.Min(length, along + half);
            if (low > high)
                return false;
            var beside = Math.Sqrt(besideSquared);
            var u = shape.LowestAt(along, beside, slope, low, high);
            tip = start + slope * u;
            under = tip + shape.Above(Math.Sqrt(besideSquared + (u - along) * (u - along)));
            return true;
        }
    }
}
