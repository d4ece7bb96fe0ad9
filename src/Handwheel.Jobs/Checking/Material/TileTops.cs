using System.Numerics;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>Points of a grid, both ends included.</summary>
readonly record struct GridWindow(int FirstColumn, int LastColumn, int FirstRow, int LastRow)
{
    public bool IsEmpty => FirstColumn > LastColumn || FirstRow > LastRow;
}

/// <summary>
/// The highest point of each square of the grid, so that a move above everything under it costs a few comparisons. Heights only fall: a
/// highest point that is out of date is still a bound, and it is found anew only when it stands in the way.
/// </summary>
sealed class TileTops
{
    const int Size = 16;

    readonly float[] heights;
    readonly int columns;
    readonly int rows;
    readonly int stride;
    readonly int across;
    readonly float[] tops;
    readonly bool[] lowered;

    public TileTops(float[] heights, int columns, int rows, int stride, float top)
    {
        (this.heights, this.columns, this.rows, this.stride) = (heights, columns, rows, stride);
        across = (columns + Size - 1) / Size;
        tops = new float[across * ((rows + Size - 1) / Size)];
        lowered = new bool[tops.Length];
        Array.Fill(tops, top);
    }

    /// <summary>Something in the window was cut.</summary>
    public void Lowered(in GridWindow window)
    {
        for (var j = window.FirstRow / Size; j <= window.LastRow / Size; j++)
            lowered
                .AsSpan(
                    j * across + window.FirstColumn / Size,
                    window.LastColumn / Size - window.FirstColumn / Size + 1
                )
                .Fill(true);
    }

    /// <summary>Leaves of a window what is around the squares that reach above a height; false: there are none.</summary>
    public bool Narrow(ref GridWindow window, double height)
    {
        var (left, right, front, back) = (int.MaxValue, int.MinValue, int.MaxValue, int.MinValue);
        for (var j = window.FirstRow / Size; j <= window.LastRow / Size; j++)
        {
            for (var i = window.FirstColumn / Size; i <= window.LastColumn / Size; i++)
            {
                if (Top(i, j) <= height)
                    continue;
                (left, right) = (Math.Min(left, i), Math.Max(right, i));
                (front, back) = (Math.Min(front, j), Math.Max(back, j));
            }
        }
        if (left > right)
            return false;
        window = new GridWindow(
            Math.Max(window.FirstColumn, left * Size),
            Math.Min(window.LastColumn, right * Size + Size - 1),
            Math.Max(window.FirstRow, front * Size),
            Math.Min(window.LastRow, back * Size + Size - 1)
        );
        return true;
    }

    float Top(int i, int j)
    {
        var tile = j * across + i;
        if (!lowered[tile])
            return tops[tile];
        lowered[tile] = false;
        var highest = Vector<float>.Zero;
        var lastRow = Math.Min(rows, (j + 1) * Size);
        var lastColumn = Math.Min(columns, (i + 1) * Size);
        for (var row = j * Size; row < lastRow; row++)
        {
            for (var column = i * Size; column < lastColumn; column += Vector<float>.Count)
                highest = Vector.MaxNative(highest, Vector.LoadUnsafe(ref heights[row * stride + column]));
        }
        var top = 0f;
        for (var lane = 0; lane < Vector<float>.Count; lane++)
            top = Math.Max(top, highest[lane]);
        return tops[tile] = top;
    }
}
