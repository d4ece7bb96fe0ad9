using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>A level part of what is left of a blank.</summary>
/// <param name="Middle">A place well inside it, in columns and rows of the grid from the front left corner.</param>
/// <param name="Height">Above the underside; 0: nothing is left.</param>
readonly record struct Flat(Spot Middle, double Height);

/// <summary>Finds the flats of a blank that have room for a figure.</summary>
static class Flats
{
    const int Most = 16;

    /// <summary>As a share of the blank's height: cells nearer than this belong to one flat.</summary>
    const double Level = 1e-5;

    /// <param name="halfWidth">Cells to each side that the figure needs.</param>
    /// <param name="halfHeight">Cells to the front and to the back.</param>
    public static IReadOnlyList<Flat> Of(AsCutBlank blank, double halfWidth, double halfHeight)
    {
        var columns = blank.Columns;
        var heights = blank.Heights.Span;
        var level = blank.Height * Level;
        var (sideways, upright) = (Room(blank, level, 1), Room(blank, level, columns));
        var flat = new int[heights.Length];
        var found = new List<(Flat Flat, int Cells)>();
        var waiting = new Stack<int>();
        for (var start = 0; start < heights.Length; start++)
        {
            if (flat[start] != 0)
                continue;
            flat[start] = 1;
            waiting.Push(start);
            var (cells, best, most) = (0, start, 0.0);
            while (waiting.TryPop(out var cell))
            {
                cells++;
                var room = Math.Min(sideways[cell] / halfWidth, upright[cell] / halfHeight);
                if (room > most)
                    (best, most) = (cell, room);
                Spread(cell, heights);
            }
            if (most >= 1)
                found.Add((new(new((best % columns) + 0.5, (best / columns) + 0.5), heights[best]), cells));
        }
        return [.. found.OrderByDescending(f => f.Cells).Take(Most).Select(f => f.Flat)];

        void Spread(int cell, ReadOnlySpan<float> heights)
        {
            var column = cell % columns;
            if (column > 0)
                Take(cell - 1, heights[cell], heights);
            if (column + 1 < columns)
                Take(cell + 1, heights[cell], heights);
            if (cell >= columns)
                Take(cell - columns, heights[cell], heights);
            if (cell + columns < flat.Length)
                Take(cell + columns, heights[cell], heights);
        }

        void Take(int cell, float height, ReadOnlySpan<float> heights)
        {
            if (flat[cell] != 0 || Math.Abs(heights[cell] - height) > level)
                return;
            flat[cell] = 1;
            waiting.Push(cell);
        }
    }

    /// <summary>For each cell, how many cells of its flat there are at least on both sides of it, along a row or along a column.</summary>
    static int[] Room(AsCutBlank blank, double level, int next)
    {
        var heights = blank.Heights.Span;
        var before = new int[heights.Length];
        var count = next == 1 ? blank.Columns : blank.Rows;
        for (var cell = next; cell < heights.Length; cell++)
        {
            if ((next > 1 || cell % count != 0) && Math.Abs(heights[cell] - heights[cell - next]) <= level)
                before[cell] = before[cell - next] + 1;
        }
        var after = new int[heights.Length];
        for (var cell = heights.Length - 1 - next; cell >= 0; cell--)
        {
            if ((next > 1 || (cell + 1) % count != 0) && Math.Abs(heights[cell] - heights[cell + next]) <= level)
                after[cell] = after[cell + next] + 1;
            before[cell] = Math.Min(before[cell], after[cell]);
        }
        for (var cell = Math.Max(0, heights.Length - next); cell < heights.Length; cell++)
            before[cell] = 0;
        return before;
    }
}
