using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>Shades of what is left of a blank: light from the back left, deeper is darker, white where nothing is left.</summary>
static class Relief
{
    const double Light = 1.6;

    /// <summary>Grey row by row from the back left corner.</summary>
    public static byte[] Of(AsCutBlank blank)
    {
        var heights = blank.Heights.Span;
        var (columns, rows) = (blank.Columns, blank.Rows);
        var (perX, perY) = (columns / (blank.MaxX - blank.MinX), rows / (blank.MaxY - blank.MinY));
        var level = Light / Math.Sqrt((Light * Light) + 2);
        var grey = new byte[heights.Length];
        for (var row = 0; row < rows; row++)
        {
            var (front, back) = (Math.Max(0, row - 1), Math.Min(rows - 1, row + 1));
            for (var column = 0; column < columns; column++)
            {
                var height = heights[(row * columns) + column];
                var to = ((rows - 1 - row) * columns) + column;
                if (height <= 0)
                {
                    grey[to] = byte.MaxValue;
                    continue;
                }
                var (left, right) = (Math.Max(0, column - 1), Math.Min(columns - 1, column + 1));
                var rightwards = Rise(
                    heights[(row * columns) + right] - heights[(row * columns) + left],
                    right - left,
                    perX
                );
                var backwards = Rise(
                    heights[(back * columns) + column] - heights[(front * columns) + column],
                    back - front,
                    perY
                );
                var facing =
                    (rightwards - backwards + Light)
                    / Math.Sqrt((rightwards * rightwards) + (backwards * backwards) + 1)
                    / Math.Sqrt((Light * Light) + 2);
                var depth = 1 - (height / blank.Height);
                var shade = (0.9 - (0.32 * depth)) * (0.6 + (0.4 * Math.Max(0, facing) / level));
                grey[to] = (byte)(255 * Math.Clamp(shade, 0.2, 0.97));
            }
        }
        return grey;
    }

    static double Rise(double up, int cells, double perLength) => cells == 0 ? 0 : up * perLength / cells;
}
