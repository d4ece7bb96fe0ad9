using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>Dimensions of the stock, the tallest thing, the scale.</summary>
public sealed partial class PartView
{
    void AddDimensions(Solid stock, int place)
    {
        var (low, high) = _view.Corners(stock);
        var origin = NearestZero(stock)?.At ?? stock.Min;
        var ((left, from), (right, to)) = (Projection.Of(_from, stock.Min), Projection.Of(_from, stock.Max));
        var (side, start) = Projection.Of(_from, origin);
        // from the side, blanks that stand beside each other are one behind the other
        if (place == 0 || _from != ViewFrom.Side)
            Across(low, high, right - left, left - side, right - side);
        if (place == 0)
            Upright(low, high, to - from, from - start, to - start, _view.Drawn.X - 5, _view.Drawn.X - Left);
        else if (place == 1 && SecondUpright(_scene, _from))
            Upright(
                low,
                high,
                to - from,
                from - start,
                to - start,
                _view.Drawn.X + _view.Drawn.Width + 3,
                _view.Drawn.X + _view.Drawn.Width + 6
            );
    }

    PartZero? NearestZero(Solid stock) =>
        _scene.Zeros.OrderBy(z => Math.Abs(z.At.X - stock.Min.X) + Math.Abs(z.At.Y - stock.Min.Y)).FirstOrDefault();

    void Across(Spot low, Spot high, double size, double from, double to)
    {
        var y = _view.Drawn.Y + _view.Drawn.Height + 9;
        AddDimension(
            new(low.X, y),
            new(high.X, y),
            [
                [new(low.X, low.Y + 2), new(low.X, y + 3)],
                [new(high.X, low.Y + 2), new(high.X, y + 3)],
            ]
        );
        var middle = new Spot((low.X + high.X) / 2, y + 3);
        AddFixed(new("dimensions", Number(size), middle, Face.MonoBold, 8, Align.Centre, Halo: true));
        if (high.X - low.X < 110)
            return;
        AddFixed(new("dimensions", Number(from), new(low.X, y + 10), Face.Mono, 6.5, Align.Centre));
        AddFixed(new("dimensions", Number(to), new(high.X, y + 10), Face.Mono, 6.5, Align.Centre));
    }

    /// <summary>Arrow heads at both ends and thin lines to what is measured, so that they enclose nothing that looks like a part.</summary>
    void AddDimension(Spot from, Spot to, IReadOnlyList<IReadOnlyList<Spot>> extensions)
    {
        const double head = 4;
        _marks.Add(new Strokes("dimensions", extensions, Weight: 0.3));
        var length = Math.Abs(to.X - from.X) + Math.Abs(to.Y - from.Y);
        List<IReadOnlyList<Spot>> lines =
        [
            [from, to],
        ];
        if (length > 4 * head)
        {
            var (along, up) = ((to.X - from.X) / length * head, (to.Y - from.Y) / length * head);
            lines.Add(Head(from, along, up));
            lines.Add(Head(to, -along, -up));
        }
        _marks.Add(new Strokes("dimensions", lines, Weight: 0.5));
    }

    static Spot[] Head(Spot tip, double x, double y) =>
        [new(tip.X + x - (y * 0.35), tip.Y + y + (x * 0.35)), tip, new(tip.X + x + (y * 0.35), tip.Y + y - (x * 0.35))];

    /// <summary>A second blank that is not as high as the first has its own dimension on the right.</summary>
    static bool SecondUpright(Scene scene, ViewFrom from) =>
        from is ViewFrom.Top or ViewFrom.AsCut
        && scene.Stock.Count > 1
        && Math.Abs(Depth(scene.Stock[0]) - Depth(scene.Stock[1])) > 1e-6;

    static double Depth(Solid solid) => solid.Max.Y - solid.Min.Y;

    /// <param name="x">Where the line stands.</param>
    /// <param name="words">Left end of its figures.</param>
    void Upright(Spot low, Spot high, double size, double from, double to, double x, double words)
    {
        var end = x < low.X ? low.X - 2 : high.X + 2;
        AddDimension(
            new(x, low.Y),
            new(x, high.Y),
            [
                [new(x, low.Y), new(end, low.Y)],
                [new(x, high.Y), new(end, high.Y)],
            ]
        );
        var middle = (low.Y + high.Y) / 2;
        AddFixed(new("dimensions", Number(size), new(words, middle + 3), Face.MonoBold, 8, Halo: true));
        if (low.Y - high.Y < 34)
            return;
        AddFixed(new("dimensions", Number(to), new(words, high.Y - 2), Face.Mono, 6.5, Halo: true));
        AddFixed(new("dimensions", Number(from), new(words, low.Y + 7.5), Face.Mono, 6.5, Halo: true));
    }

    void AddTallest()
    {
        if (_scene.Tallest is not { } tallest)
            return;
        var y = _view.Y(tallest.Max.Z);
        var right = _view.Frame.X + _view.Frame.Width;
        _marks.Add(
            new Strokes(
                "tallest",
                [
                    [new(_view.Frame.X, y), new(right, y)],
                ],
                Weight: 0.5,
                Dash: [8, 2, 2, 2]
            )
        );
        var above =
            _scene.Zeros.Count > 0
                ? $" Z {Number(tallest.Max.Z - _scene.Zeros[0].At.Z)} from {_scene.Zeros[0].WorkOffset}"
                : "";
        var text = $"tallest: {tallest.Name}{above}";
        var room = Ink.Room(text, Face.SansBold, 7) + 3;
        if (BesideLine(y, room) is { } middle)
            _marks.Add(
                new Label("tallest", text, new(middle.X, middle.Y + 2.5), Face.SansBold, 7, Align.Centre, Halo: true)
            );
        else
            AddTallestInCorner(text, room, new(_view.Frame.X + 6, y));
    }

    /// <summary>Above all that is drawn, with a line down to the height it names.</summary>
    void AddTallestInCorner(string text, double room, Spot height)
    {
        var corner = new Spot(height.X, Top - 2);
        _marks.Add(
            new Strokes(
                "tallest",
                [
                    [corner, height],
                ],
                Weight: 0.35
            )
        );
        AddName("tallest", text, Face.SansBold, 7, corner with { X = room / 2 }, corner);
    }

    /// <summary>Where the name of a level line covers nothing: above it on the right, on the left, between, then below it. Null: nowhere.</summary>
    Spot? BesideLine(double y, double room)
    {
        const double step = 8;
        var (left, right) = (_view.Frame.X + (room / 2), _view.Frame.X + _view.Frame.Width - (room / 2));
        foreach (var middle in new[] { y - 5, y + 6 })
        {
            if (_places.TryTake(new(right, middle), room, 9))
                return new(right, middle);
            for (var x = left; x < right; x += step)
                if (_places.TryTake(new(x, middle), room, 9))
                    return new(x, middle);
        }
        return null;
    }

    void AddScaleBar()
    {
        var most = _width * 0.25 / _view.Scale;
        var step = Math.Pow(10, Math.Floor(Math.Log10(most)));
        var length =
            most >= 5 * step ? 5 * step
            : most >= 2 * step ? 2 * step
            : step;
        var points = length * _view.Scale;
        var y = _height - 5;
        _marks.Add(
            new Strokes(
                "scale",
                [
                    [new(2, y - 3), new(2, y), new(2 + points, y), new(2 + points, y - 3)],
                ],
                Weight: 1
            )
        );
        var text = length.ToString("0.####", CultureInfo.InvariantCulture) + " " + _scene.Units.Symbol();
        _marks.Add(new Label("scale", text, new(6 + points, y), Face.Sans, 7));
    }
}
