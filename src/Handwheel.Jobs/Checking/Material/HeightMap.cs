using System.Numerics;
using System.Runtime.CompilerServices;
using Handwheel.Jobs.Checking.Clearance;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>
/// The material of one blank as heights over a grid of points. At each point the height is that of the true swept tool, to some nm, whatever
/// the size of the grid: what falls between two points is not seen, and nothing is seen that is not there.
/// </summary>
sealed class HeightMap
{
    /// <summary>What heights can be off by, and more, nm.</summary>
    public const double Rounding = 1000;

    static readonly Vector<float> Ramp = Vector<float>.Indices;

    readonly Solid stock;
    readonly int columns;
    readonly int rows;
    readonly double stepX;
    readonly double stepY;
    readonly double perStepX;
    readonly double perStepY;
    readonly float full;

    /// <summary>Between two rows there are points without material, so that several points at once may reach past the end of a row.</summary>
    readonly int stride;

    /// <summary>Heights over the underside, nm; nothing before something is cut.</summary>
    float[] heights = [];
    TileTops? tops;

    // Where the last cut ended and with what: there the tool has nothing more to cut.
    TipPoint cutTo;
    ToolShape cutWith;
    bool isCut;
    bool lastMet;

    /// <param name="grid">Distance of the points, nm, at most; the blank is divided evenly.</param>
    public HeightMap(Solid stock, double grid)
    {
        this.stock = stock;
        (columns, rows) = Size(stock, grid);
        stepX = (stock.MaxX - stock.MinX) / columns;
        stepY = (stock.MaxY - stock.MinY) / rows;
        (perStepX, perStepY) = (1 / stepX, 1 / stepY);
        stride = columns + Vector<float>.Count;
        full = stock.Top - stock.Bottom;
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

    /// <summary>Points that were looked at so far: what following has cost.</summary>
    public long Looks { get; private set; }

    /// <summary>What is left, mm³.</summary>
    public double Volume
    {
        get
        {
            if (tops is null)
                return (double)full * columns * rows * stepX * stepY / 1e18;
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
        if (i < 0 || j < 0 || i >= columns || j >= rows)
            return null;
        return stock.Bottom + (tops is null ? full : heights[j * stride + i]);
    }

    /// <summary>
    /// The heights over the underside, nm, as rows from the front left corner, no side longer than <paramref name="most"/>. Of points that are
    /// taken together the lowest counts, so that no slot is lost, or the highest, so that nothing is lower than it is.
    /// </summary>
    public (int Columns, int Rows, float[] Heights) Thin(int most, bool highest)
    {
        var (across, deep) = (Math.Min(columns, most), Math.Min(rows, most));
        var thin = new float[across * deep];
        Array.Fill(thin, highest && tops is not null ? 0 : full);
        for (var row = 0; tops is not null && row < rows; row++)
        {
            var to = thin.AsSpan((int)((long)row * deep / rows) * across, across);
            for (var column = 0; column < columns; column++)
            {
                ref var cell = ref to[(int)((long)column * across / columns)];
                var height = heights[row * stride + column];
                cell = highest ? Math.Max(cell, height) : Math.Min(cell, height);
            }
        }
        return (across, deep, thin);
    }

    /// <summary>Moves a shape along a straight line: cuts, or only looks what it would meet.</summary>
    public Met Move(TipPoint from, TipPoint to, in ToolShape shape, bool cut)
    {
        var met = new Met();
        var move = new StraightMove(from, to, stock.Bottom);
        var goesOn = cut && isCut && cutTo == from && cutWith == shape;
        if (cut)
            (isCut, cutTo, cutWith) = (true, to, shape);
        // back the way up there is nothing to cut, and above the blank neither
        if (move.Lowest >= full || goesOn && move.Length <= 0 && to.Z >= from.Z)
            return met;
        if (!TryWindow(from, to, shape.Radius, out var window))
            return met;
        tops ??= Begin();
        if (!(goesOn && lastMet) && !tops.Narrow(ref window, move.Lowest))
            return met;
        var outline = new SweptOutline(move, shape, goesOn);
        if (shape.ConeSlope > 0)
            Sweep(new ConeUnderside(move, shape), from, move, outline, window, cut, ref met);
        else if (shape.CornerRadius >= shape.Radius)
            Sweep(new BallUnderside(move, shape), from, move, outline, window, cut, ref met);
        else if (shape.CornerRadius > 0)
            Sweep(new BullUnderside(move, shape), from, move, outline, window, cut, ref met);
        else if (move.Slope == 0)
            Sweep(new LevelFlat(move, shape), from, move, outline, window, cut, ref met);
        else
            Sweep(new SlopingFlat(move, shape), from, move, outline, window, cut, ref met);
        met.Volume *= stepX * stepY / 1e18;
        if (cut)
            lastMet = met.Any;
        if (cut && met.Any)
            tops.Lowered(window);
        return met;
    }

    TileTops Begin()
    {
        heights = GC.AllocateUninitializedArray<float>(stride * rows + Vector<float>.Count);
        heights.AsSpan().Fill(full);
        for (var row = 0; row < rows; row++)
            heights.AsSpan(row * stride + columns, stride - columns).Clear();
        heights.AsSpan(rows * stride).Clear();
        return new TileTops(heights, columns, rows, stride, full);
    }

    /// <summary>The points in the rectangle around a move; false: there are none.</summary>
    bool TryWindow(TipPoint from, TipPoint to, double radius, out GridWindow window)
    {
        window = new GridWindow(
            Index((Math.Min(from.X, to.X) - radius - stock.MinX) * perStepX, columns),
            Index((Math.Max(from.X, to.X) + radius - stock.MinX) * perStepX, columns) - 1,
            Index((Math.Min(from.Y, to.Y) - radius - stock.MinY) * perStepY, rows),
            Index((Math.Max(from.Y, to.Y) + radius - stock.MinY) * perStepY, rows) - 1
        );
        return !window.IsEmpty;
    }

    /// <summary>The first point at or past a distance from the edge, both in steps of the grid.</summary>
    static int Index(double distance, int count) => Math.Clamp((int)Math.Ceiling(distance - 0.5), 0, count);

    void Sweep<TUnderside>(
        TUnderside underside,
        TipPoint from,
        in StraightMove move,
        in SweptOutline outline,
        in GridWindow window,
        bool cut,
        ref Met met
    )
        where TUnderside : struct, IUnderside
    {
        var left = stock.MinX + 0.5 * stepX - from.X;
        var front = stock.MinY + 0.5 * stepY - from.Y;
        var rowSpans = new RowSpans(outline, window, left, front, stepX, stepY);
        var (narrowest, widest) = rowSpans.OfAll();
        if (widest < narrowest)
            return;
        var sums = new Sums();
        if (widest - narrowest < Vector<float>.Count)
            Column(underside, move, window, narrowest, (float)(left + narrowest * stepX), front, cut, ref sums);
        else
            Rows(underside, move, window, rowSpans, left, front, cut, ref sums);
        if (sums.Volume > 0)
            met = new Met
            {
                Depth = Largest(sums.Deepest),
                AboveTip = Largest(sums.Highest),
                Volume = sums.Volume,
            };
    }

    /// <summary>A short move: as many points of each row as are taken at once, the same for all rows.</summary>
    void Column<TUnderside>(
        in TUnderside underside,
        in StraightMove move,
        in GridWindow window,
        int first,
        float firstX,
        double front,
        bool cut,
        ref Sums sums
    )
        where TUnderside : struct, IUnderside
    {
        var (alongX, alongY) = ((float)move.AlongX, (float)move.AlongY);
        var x = new Vector<float>(firstX) + Ramp * (float)stepX;
        var (alongOfX, besideOfX) = (x * alongX, x * alongY);
        Looks += (long)Vector<float>.Count * (window.LastRow - window.FirstRow + 1);
        for (var row = window.FirstRow; row <= window.LastRow; row++)
        {
            var line = (float)(front + row * stepY);
            Points(
                underside,
                ref heights[row * stride + first],
                alongOfX + new Vector<float>(line * alongY),
                new Vector<float>(line * alongX) - besideOfX,
                cut,
                ref sums
            );
        }
        sums.Volume = Vector.Sum(sums.Taken);
    }

    void Rows<TUnderside>(
        in TUnderside underside,
        in StraightMove move,
        in GridWindow window,
        in RowSpans rowSpans,
        double left,
        double front,
        bool cut,
        ref Sums sums
    )
        where TUnderside : struct, IUnderside
    {
        var (alongX, alongY) = (new Vector<float>((float)move.AlongX), new Vector<float>((float)move.AlongY));
        var step = (float)stepX;
        var firstX = new Vector<float>((float)(left + window.FirstColumn * stepX)) + Ramp * step;
        for (var row = window.FirstRow; row <= window.LastRow; row++)
        {
            var (first, last) = rowSpans.Of(row);
            if (first > last)
                continue;
            Looks += last - first + 1;
            var line = new Vector<float>((float)(front + row * stepY));
            var (alongBase, besideBase) = (line * alongY, line * alongX);
            sums.Taken = Vector<float>.Zero;
            for (var column = first; column <= last; column += Vector<float>.Count)
            {
                var x = firstX + new Vector<float>((column - window.FirstColumn) * step);
                Points(
                    underside,
                    ref heights[row * stride + column],
                    x * alongX + alongBase,
                    besideBase - x * alongY,
                    cut,
                    ref sums
                );
            }
            if (sums.Taken != Vector<float>.Zero)
                sums.Volume += Vector.Sum(sums.Taken);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    static void Points<TUnderside>(
        in TUnderside underside,
        ref float place,
        Vector<float> along,
        Vector<float> beside,
        bool cut,
        ref Sums sums
    )
        where TUnderside : struct, IUnderside
    {
        var height = Vector.LoadUnsafe(ref place);
        if (!underside.Over(along, beside, height, out var tip, out var under, out var reached))
            return;
        under = Vector.MaxNative(under, Vector<float>.Zero);
        var hit = reached & Vector.GreaterThan(height, under);
        if (hit == Vector<int>.Zero)
            return;
        var depth = Vector.ConditionalSelect(hit, height - under, Vector<float>.Zero);
        sums.Taken += depth;
        sums.Deepest = Vector.MaxNative(sums.Deepest, depth);
        sums.Highest = Vector.MaxNative(sums.Highest, Vector.ConditionalSelect(hit, height - tip, Vector<float>.Zero));
        if (cut)
            Vector.ConditionalSelect(hit, under, height).StoreUnsafe(ref place);
    }

    /// <summary>What a move has met so far, point by point of those taken at once.</summary>
    struct Sums
    {
        public Vector<float> Deepest,
            Highest;

        /// <summary>Depths that are not in <see cref="Volume"/> yet.</summary>
        public Vector<float> Taken;

        /// <summary>Sum of all depths, nm.</summary>
        public double Volume;
    }

    static float Largest(Vector<float> values)
    {
        var largest = values[0];
        for (var i = 1; i < Vector<float>.Count; i++)
            largest = float.MaxNative(largest, values[i]);
        return largest;
    }
}
