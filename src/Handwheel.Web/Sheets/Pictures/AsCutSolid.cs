using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>What is left of a blank, seen from the front left and above: tops and walls of a coarse grid, painted from the back.</summary>
sealed class AsCutSolid
{
    /// <summary>Cells along the longer side; more are finer than a printed line.</summary>
    const int Most = 88;

    readonly AsCutBlank _blank;
    readonly Func<Place3, Spot> _at;
    readonly int _columns;
    readonly int _rows;
    readonly double _edge;
    readonly byte[] _grey;
    readonly List<Mark> _marks = [];

    AsCutSolid(AsCutBlank blank, Units units, Func<Place3, Spot> at)
    {
        (_blank, _at) = (blank, at);
        var step = Math.Max(1.0, Math.Max(blank.Columns, blank.Rows) / (double)Most);
        _columns = Math.Max(1, (int)Math.Round(blank.Columns / step));
        _rows = Math.Max(1, (int)Math.Round(blank.Rows / step));
        _edge = units == Units.Inch ? 0.2 / 25.4 : 0.2;
        _grey = Relief.Of(blank);
    }

    public static IReadOnlyList<Mark> Of(AsCutBlank blank, Units units, Func<Place3, Spot> at)
    {
        var solid = new AsCutSolid(blank, units, at);
        for (var row = solid._rows - 1; row >= 0; row--)
            solid.Row(row);
        return solid._marks;
    }

    void Row(int row)
    {
        for (var last = _columns - 1; last >= 0; )
        {
            var first = last;
            while (first > 0 && IsSame(first - 1, last, row))
                first--;
            Piece(first, last, row);
            last = first - 1;
        }
    }

    bool IsSame(int column, int other, int row) =>
        Height(column, row) == Height(other, row)
        && Height(column, row - 1) == Height(other, row - 1)
        && Shade(column, row) == Shade(other, row);

    void Piece(int first, int last, int row)
    {
        var height = Height(first, row);
        if (height <= 0)
            return;
        var (left, right) = (X(first), X(last + 1));
        var (front, back) = (Y(row), Y(row + 1));
        var (beside, before) = (Height(first - 1, row), Height(first, row - 1));
        if (beside < height)
            Wall(new(left, front, 0), new(left, back, 0), beside, height, "#a9b0b7");
        if (before < height)
            Wall(new(left, front, 0), new(right, front, 0), before, height, "#c3c9cf");
        var top = Z(height);
        Fill(
            [
                _at(new(left, front, top)),
                _at(new(right, front, top)),
                _at(new(right, back, top)),
                _at(new(left, back, top)),
            ],
            Grey(Shade(first, row))
        );
    }

    void Wall(Place3 start, Place3 end, double low, double high, string colour)
    {
        var (bottom, top) = (Z(low), Z(high));
        Spot[] face =
        [
            _at(start with { Z = bottom }),
            _at(end with { Z = bottom }),
            _at(end with { Z = top }),
            _at(start with { Z = top }),
        ];
        Fill(face, colour);
        if (high - low > _edge)
            _marks.Add(
                new Strokes(
                    "as-cut",
                    [
                        [face[0], face[1]],
                        [face[2], face[3]],
                    ],
                    Weight: 0.35
                )
            );
    }

    /// <summary>With a thin line of its own colour, or the ground shows between two that touch.</summary>
    void Fill(IReadOnlyList<Spot> corners, string colour) =>
        _marks.Add(new Strokes("as-cut", [corners], colour, 0.25, Fill: colour, Closed: true));

    double X(int column) => _blank.MinX + (column / (double)_columns * (_blank.MaxX - _blank.MinX));

    double Y(int row) => _blank.MinY + (row / (double)_rows * (_blank.MaxY - _blank.MinY));

    double Z(double height) => _blank.Bottom + height;

    /// <summary>0 outside the blank.</summary>
    float Height(int column, int row) =>
        column < 0 || row < 0 || column >= _columns || row >= _rows
            ? 0
            : _blank.Heights.Span[
                (InGrid(row, _rows, _blank.Rows) * _blank.Columns) + InGrid(column, _columns, _blank.Columns)
            ];

    /// <summary>In eight steps, so that a flat is one piece.</summary>
    int Shade(int column, int row) =>
        _grey[
            ((_blank.Rows - 1 - InGrid(row, _rows, _blank.Rows)) * _blank.Columns)
                + InGrid(column, _columns, _blank.Columns)
        ] / 8;

    static int InGrid(int cell, int cells, int of) => Math.Min(of - 1, (int)((cell + 0.5) * of / cells));

    static string Grey(int shade)
    {
        var grey = Math.Min(255, (shade * 8) + 16).ToString("x2", System.Globalization.CultureInfo.InvariantCulture);
        return "#" + grey + grey + grey;
    }
}
