using System.Numerics;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>Which points of each row of a window a move must be looked at: never too few.</summary>
readonly ref struct RowSpans
{
    /// <summary>Wider than this, the outline is followed row by row; below it, looking at the whole row costs less.</summary>
    static readonly int Small = 4 * Vector<float>.Count;

    /// <summary>A span is this much wider, in steps of the grid, so that rounding leaves no point out.</summary>
    const double Rounding = 1e-3;

    readonly ref readonly SweptOutline outline;
    readonly GridWindow window;
    readonly double left;
    readonly double front;
    readonly double perStepX;
    readonly double stepY;
    readonly bool small;

    // In a small window: what is cut ends at a straight line across the rows.
    readonly double lowAtZero,
        lowPerRow,
        highAtZero,
        highPerRow;

    /// <param name="left">The first point of a row from the start of the move, nm.</param>
    /// <param name="front">The first row from the start of the move, nm.</param>
    public RowSpans(
        in SweptOutline outline,
        in GridWindow window,
        double left,
        double front,
        double stepX,
        double stepY
    )
    {
        this.outline = ref outline;
        (this.window, this.left, this.front, this.stepY) = (window, left, front, stepY);
        perStepX = 1 / stepX;
        small = window.LastColumn - window.FirstColumn < Small;
        if (!small)
            return;
        (lowAtZero, highAtZero) = (window.FirstColumn, window.LastColumn);
        if (!outline.TryEdge(out var atY0, out var perY, out var isLow))
            return;
        var atZero = (atY0 + front * perY - left) * perStepX;
        var perRow = stepY * perY * perStepX;
        if (isLow)
            (lowAtZero, lowPerRow) = (atZero - Rounding, perRow);
        else
            (highAtZero, highPerRow) = (atZero + Rounding, perRow);
    }

    /// <summary>The points at which any row must be looked at: the edge is a straight line, so the first and the last row tell.</summary>
    public (int First, int Last) OfAll()
    {
        if (!small)
            return (window.FirstColumn, window.LastColumn);
        var (first, last) = (Of(window.FirstRow), Of(window.LastRow));
        return (Math.Min(first.First, last.First), Math.Max(first.Last, last.Last));
    }

    public (int First, int Last) Of(int row)
    {
        // rounded towards zero without a look at overflow: whatever comes of that is clamped to the window and never too narrow
        if (small)
            return (
                Math.Max(window.FirstColumn, double.ConvertToIntegerNative<int>(lowAtZero + lowPerRow * row)),
                Math.Min(window.LastColumn, double.ConvertToIntegerNative<int>(highAtZero + highPerRow * row + 1) - 1)
            );
        var (low, high) = outline.Row(front + row * stepY);
        return (
            Math.Max(window.FirstColumn, (int)Math.Ceiling((low - left) * perStepX - Rounding)),
            Math.Min(window.LastColumn, (int)Math.Floor((high - left) * perStepX + Rounding))
        );
    }
}
