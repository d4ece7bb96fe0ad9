using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>
/// Lines where what is left of a blank goes down in a step and not on a slope, in columns and rows of its grid from the front left corner.
/// </summary>
static class StepLines
{
    const byte Right = 1;
    const byte Back = 2;
    const byte Left = 4;
    const byte Front = 8;

    public static IReadOnlyList<IReadOnlyList<Spot>> Of(AsCutBlank blank, Units units)
    {
        var ways = Ways(blank, units == Units.Inch ? 0.2 / 25.4 : 0.2);
        var across = blank.Columns + 1;
        var lines = new List<IReadOnlyList<Spot>>();
        // first from the ends and crossings, then what is left goes around
        for (var at = 0; at < ways.Length; at++)
        {
            while (ways[at] != 0 && (ways[at] & (ways[at] - 1)) == 0 || IsCrossing(ways[at]))
                lines.Add(Walk(ways, across, at));
        }
        for (var at = 0; at < ways.Length; at++)
        {
            while (ways[at] != 0)
                lines.Add(Walk(ways, across, at));
        }
        return lines;
    }

    static bool IsCrossing(byte ways) => System.Numerics.BitOperations.PopCount(ways) > 2;

    /// <summary>At each corner between cells, the ways in which a step goes on.</summary>
    static byte[] Ways(AsCutBlank blank, double least)
    {
        var (columns, rows, across) = (blank.Columns, blank.Rows, blank.Columns + 1);
        var ways = new byte[across * (rows + 1)];
        var heights = blank.Heights.Span;
        var cellX = (blank.MaxX - blank.MinX) / columns;
        var cellY = (blank.MaxY - blank.MinY) / rows;
        for (var row = 0; row < rows; row++)
        {
            for (var column = 0; column < columns; column++)
            {
                var cell = (row * columns) + column;
                if (column + 1 < columns && IsStep(heights, cell, 1, column, columns, Math.Max(least, cellX / 2)))
                {
                    ways[(row * across) + column + 1] |= Back;
                    ways[((row + 1) * across) + column + 1] |= Front;
                }
                if (row + 1 < rows && IsStep(heights, cell, columns, row, rows, Math.Max(least, cellY / 2)))
                {
                    ways[((row + 1) * across) + column] |= Right;
                    ways[((row + 1) * across) + column + 1] |= Left;
                }
            }
        }
        return ways;
    }

    /// <summary>Between a cell and the next: more than the least, and far more than the cells beside them differ the same way.</summary>
    static bool IsStep(ReadOnlySpan<float> heights, int cell, int next, int place, int count, double least)
    {
        var step = heights[cell + next] - heights[cell];
        if (Math.Abs(step) <= least)
            return false;
        var before = place > 0 ? heights[cell] - heights[cell - next] : 0;
        var after = place + 2 < count ? heights[cell + (2 * next)] - heights[cell + next] : 0;
        var slope = Math.Max(before * Math.Sign(step), after * Math.Sign(step));
        return Math.Abs(step) > 2.5 * slope;
    }

    /// <summary>Goes along a step as far as it does not fork, and takes it away. Through the middles of the cells' sides, so that stairs become slants.</summary>
    static List<Spot> Walk(byte[] ways, int across, int start)
    {
        var line = new List<Spot> { At(start, across) };
        var at = start;
        do
        {
            var way = (byte)(ways[at] & -ways[at]);
            var (by, back) = way switch
            {
                Right => (1, Left),
                Back => (across, Front),
                Left => (-1, Right),
                _ => (-across, Back),
            };
            ways[at] &= (byte)~way;
            var (from, to) = (At(at, across), At(at + by, across));
            at += by;
            ways[at] &= (byte)~back;
            Append(line, new((from.X + to.X) / 2, (from.Y + to.Y) / 2));
        } while (at != start && System.Numerics.BitOperations.PopCount(ways[at]) == 1);
        if (at == start && line.Count > 2)
        {
            line.RemoveAt(0);
            Append(line, line[0]);
        }
        else
        {
            Append(line, At(at, across));
        }
        return line;
    }

    static Spot At(int corner, int across) => new(corner % across, corner / across);

    /// <summary>A place on the way straight on takes the one before it away.</summary>
    static void Append(List<Spot> line, Spot next)
    {
        if (line.Count > 1)
        {
            var (a, b) = (line[^2], line[^1]);
            if ((b.X - a.X) * (next.Y - b.Y) == (b.Y - a.Y) * (next.X - b.X))
                line.RemoveAt(line.Count - 1);
        }
        line.Add(next);
    }
}
