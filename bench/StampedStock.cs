namespace Handwheel.Bench;

/// <summary>
/// A stock as a hurried developer would cut it: a two-dimensional array of heights, and at every tenth of a millimetre of every move the whole square
/// around the tool is gone through. Lengths in mm; the blank's underside is at 0 and its corner at X0 Y0.
/// </summary>
sealed class StampedStock
{
    const double StampStep = 0.1;

    readonly double[,] heights;
    readonly double grid;

    public StampedStock(double width, double depth, double top, double grid)
    {
        this.grid = grid;
        heights = new double[(int)Math.Round(width / grid), (int)Math.Round(depth / grid)];
        for (var i = 0; i < heights.GetLength(0); i++)
        for (var j = 0; j < heights.GetLength(1); j++)
            heights[i, j] = top;
    }

    /// <summary>mm³.</summary>
    public double Removed { get; private set; }

    public void BallMove(double x1, double y1, double z1, double x2, double y2, double z2, double radius)
    {
        var length = Math.Sqrt(Math.Pow(x2 - x1, 2) + Math.Pow(y2 - y1, 2) + Math.Pow(z2 - z1, 2));
        var stamps = Math.Max(1, (int)Math.Ceiling(length / StampStep));
        for (var s = 0; s <= stamps; s++)
        {
            var share = (double)s / stamps;
            Stamp(x1 + (x2 - x1) * share, y1 + (y2 - y1) * share, z1 + (z2 - z1) * share, radius);
        }
    }

    void Stamp(double x, double y, double z, double radius)
    {
        var firstColumn = Math.Max(0, (int)((x - radius) / grid));
        var lastColumn = Math.Min(heights.GetLength(0) - 1, (int)((x + radius) / grid));
        var firstRow = Math.Max(0, (int)((y - radius) / grid));
        var lastRow = Math.Min(heights.GetLength(1) - 1, (int)((y + radius) / grid));
        for (var i = firstColumn; i <= lastColumn; i++)
        {
            for (var j = firstRow; j <= lastRow; j++)
            {
                var dx = (i + 0.5) * grid - x;
                var dy = (j + 0.5) * grid - y;
                var left = radius * radius - dx * dx - dy * dy;
                if (left < 0)
                    continue;
                var under = Math.Max(0, z + radius - Math.Sqrt(left));
                if (heights[i, j] <= under)
                    continue;
                Removed += (heights[i, j] - under) * grid * grid;
                heights[i, j] = under;
            }
        }
    }
}
