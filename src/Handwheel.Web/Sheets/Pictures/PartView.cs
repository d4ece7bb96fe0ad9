using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets.Pictures;

public enum ViewFrom
{
    /// <summary>X to the right, Y up.</summary>
    Top,

    /// <summary>X to the right, Z up.</summary>
    Front,

    /// <summary>X to the right, Y up; the stock as the program leaves it, without the path.</summary>
    AsCut,
}

/// <summary>Draws a scene from one side: stock, holding, path, part zero, dimensions, the raised copy, a scale bar.</summary>
public sealed partial class PartView
{
    const double Left = 42;
    const double Edge = 16;
    const double Top = 20;
    const double Foot = 34;
    const double RaisedEdge = 44;
    readonly Scene _scene;
    readonly ViewFrom _from;
    readonly double _width;
    readonly double _height;
    readonly List<Mark> _marks = [];
    readonly LabelPlaces _places = new();
    readonly View _view;

    PartView(Scene scene, ViewFrom from, double width, double height)
    {
        (_scene, _from, _width, _height) = (scene, from, width, height);
        var right = from == ViewFrom.Front && scene.Raise > 0 || SecondUpright(scene, from) ? Edge + RaisedEdge : Edge;
        _view = View.Of(scene, from, new(Left, Top, width - Left - right, height - Top - Foot));
    }

    /// <summary>A picture of <paramref name="width"/> × <paramref name="height"/> points.</summary>
    public static Picture Draw(Scene scene, ViewFrom from, double width, double height) =>
        new PartView(scene, from, width, height).Draw();

    /// <summary>The height at which a picture of this width has no empty ground above and below, within limits, points.</summary>
    public static double HeightFor(Scene scene, ViewFrom from, double width, double least, double most) =>
        Math.Clamp((View.Shape(scene, from) * (width - Left - Edge)) + Top + Foot, least, most);

    Picture Draw()
    {
        var title = _from switch
        {
            ViewFrom.Top => "Top view: X right, Y up",
            ViewFrom.Front => "Front view: X right, Z up",
            _ => "As cut, from above: X right, Y up",
        };
        _marks.Add(new Label("title", title, new(0, 9), Face.SansBold, 8.5));
        foreach (var stock in _scene.Stock)
            AddStock(stock);
        foreach (var held in _scene.Holding.OrderByDescending(h => h.Max.Y))
            AddHolding(held);
        if (_from == ViewFrom.AsCut)
            AddCut();
        else
            AddPath();
        foreach (var zero in _scene.Zeros)
            AddZero(zero);
        for (var i = 0; i < _scene.Stock.Count; i++)
            AddDimensions(_scene.Stock[i], i);
        if (_from == ViewFrom.Front)
            AddTallest();
        if (_from != ViewFrom.AsCut)
            AddToolNumbers();
        if (_from != ViewFrom.Front)
            AddPasses();
        foreach (var zero in _scene.Zeros)
            AddZeroName(zero);
        foreach (var held in _scene.Holding)
            AddName(held);
        if (_from == ViewFrom.AsCut)
            AddDepths();
        AddScaleBar();
        return new(title, _width, _height, _marks);
    }

    void AddStock(Solid stock) =>
        _marks.Add(new Strokes("stock", [Outline(stock)], Weight: 0.9, Fill: "#e6e9ec", Closed: true));

    void AddHolding(Solid held)
    {
        var round = held.Round && _from != ViewFrom.Front;
        var (low, high) = _view.Corners(held);
        var hatch = round ? Shapes.HatchCircle(low, high) : Shapes.HatchBox(low, high);
        _marks.Add(new Strokes("holding", hatch, Weight: 0.35));
        _marks.Add(new Strokes("holding", [Outline(held)], Weight: 1, Closed: true));
    }

    IReadOnlyList<Spot> Outline(Solid solid)
    {
        var (low, high) = _view.Corners(solid);
        return solid.Round && _from != ViewFrom.Front
            ? Shapes.Circle(new((low.X + high.X) / 2, (low.Y + high.Y) / 2), (high.X - low.X) / 2)
            : [new(low.X, low.Y), new(high.X, low.Y), new(high.X, high.Y), new(low.X, high.Y)];
    }

    void AddPath()
    {
        var looks = ToolLook.For(_scene.Path.Select(r => r.Tool));
        if (_from == ViewFrom.Front && _scene.Raise is > 0 and { } raise)
            AddRaised(raise);
        foreach (var tool in _scene.Path.GroupBy(r => r.Tool))
        {
            var look = looks[tool.Key];
            var rapids = _view.Lines(tool.Where(r => r.Rapid), 0);
            if (rapids.Count > 0)
                _marks.Add(new Strokes("rapids", rapids, look.Colour, 0.4, look.Dash));
            var cuts = _view.Lines(tool.Where(r => !r.Rapid), 0);
            if (cuts.Count > 0)
                _marks.Add(new Strokes("cuts", cuts, look.Colour, 1.1));
        }
    }

    void AddToolNumbers()
    {
        var looks = ToolLook.For(_scene.Path.Select(r => r.Tool));
        foreach (var tool in _scene.Path.Where(r => !r.Rapid).GroupBy(r => r.Tool))
            AddToolNumber(tool.Key, looks[tool.Key].Colour, tool.First());
    }

    void AddRaised(double raise)
    {
        var cuts = _scene.Path.Where(r => !r.Rapid).ToList();
        if (cuts.Count == 0)
            return;
        _marks.Add(new Strokes("raised", _view.Lines(cuts, raise), "#808890", 0.6, [1, 1.5]));
        var lowest = cuts.Min(r => r.Tip.Min(p => p.Z));
        var x = _view.Drawn.X + _view.Drawn.Width + 10;
        var from = _view.Y(lowest);
        var to = _view.Y(lowest + raise);
        _marks.Add(
            new Strokes(
                "raised",
                [
                    [new(x, from), new(x, to)],
                    [new(x - 3, to + 5), new(x, to), new(x + 3, to + 5)],
                ],
                Weight: 1
            )
        );
        var middle = ClearOfTallest((from + to) / 2);
        _marks.Add(new Label("raised", "raised", new(x + 4, middle - 2), Face.Sans, 7));
        _marks.Add(new Label("raised", Number(raise), new(x + 4, middle + 7), Face.MonoBold, 8));
        _places.Take(x - 4, middle - 9, RaisedEdge, 18);
    }

    /// <summary>The name of the tallest thing stands above its line, on the right: the raise goes below it.</summary>
    double ClearOfTallest(double middle) =>
        _scene.Tallest is { } tallest && _view.Y(tallest.Max.Z) is var line && middle > line - 20 && middle < line + 12
            ? line + 12
            : middle;

    void AddToolNumber(int tool, string colour, TipRun first)
    {
        var at = _places.Near(_view.At(first.Tip[0], 0), 13, 13, _width, _height);
        _marks.Add(new Strokes("tools", [Shapes.Circle(at, 6)], colour, 1.2, Fill: "#ffffff", Closed: true));
        var text = tool.ToString(CultureInfo.InvariantCulture);
        _marks.Add(new Label("tools", text, at with { Y = at.Y + 2.6 }, Face.MonoBold, 7.5, Align.Centre));
    }

    void AddZero(PartZero zero)
    {
        var at = _view.At(zero.At, 0);
        var up = _from == ViewFrom.Front ? "Z" : "Y";
        const double arm = 24;
        _marks.Add(new Strokes("zero", [Shapes.Circle(at, 6)], Weight: 0.8, Fill: "#ffffff", Closed: true));
        _marks.Add(
            new Strokes(
                "zero",
                [Shapes.Quarter(at, 6, 0), Shapes.Quarter(at, 6, 2)],
                null,
                Fill: "#000000",
                Closed: true
            )
        );
        _marks.Add(
            new Strokes(
                "zero",
                [
                    [at, new(at.X + arm, at.Y)],
                    [new(at.X + arm - 4, at.Y - 2), new(at.X + arm, at.Y), new(at.X + arm - 4, at.Y + 2)],
                    [at, new(at.X, at.Y - arm)],
                    [new(at.X - 2, at.Y - arm + 4), new(at.X, at.Y - arm), new(at.X + 2, at.Y - arm + 4)],
                ],
                Weight: 0.9
            )
        );
        _places.Take(at.X - 7, at.Y - arm, arm + 8, arm + 7);
        _marks.Add(new Label("zero", "X", new(at.X + arm + 2, at.Y + 2.5), Face.SansBold, 7, Halo: true));
        _marks.Add(new Label("zero", up, new(at.X, at.Y - arm - 2), Face.SansBold, 7, Align.Centre, Halo: true));
    }

    void AddZeroName(PartZero zero)
    {
        var at = _view.At(zero.At, 0);
        AddName("zero", zero.WorkOffset, Face.MonoBold, 8, new(at.X - 20, at.Y + 13), at);
    }

    /// <summary>Writes a name where nothing else stands, with a line to what it names when that is not near.</summary>
    void AddName(string layer, string name, Face face, double size, Spot wanted, Spot named)
    {
        var at = _places.Near(wanted, Ink.Room(name, face, size) + 3, size * 1.2, _width, _height - Foot + 8);
        if (Math.Abs(at.X - wanted.X) + Math.Abs(at.Y - wanted.Y) > 9)
            _marks.Add(
                new Strokes(
                    layer,
                    [
                        [at, named],
                    ],
                    Weight: 0.35
                )
            );
        _marks.Add(new Label(layer, name, at with { Y = at.Y + (size * 0.35) }, face, size, Align.Centre, Halo: true));
    }

    void AddDimensions(Solid stock, int place)
    {
        var (low, high) = _view.Corners(stock);
        var origin = NearestZero(stock)?.At ?? stock.Min;
        Across(low, high, stock.Max.X - stock.Min.X, stock.Min.X - origin.X, stock.Max.X - origin.X);
        var (from, to, start) =
            _from == ViewFrom.Front ? (stock.Min.Z, stock.Max.Z, origin.Z) : (stock.Min.Y, stock.Max.Y, origin.Y);
        if (place == 0)
            Upright(low, high, to - from, from - start, to - start, _view.Drawn.X - 5, _view.Drawn.X - Left - 3);
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
        _marks.Add(
            new Strokes(
                "dimensions",
                [
                    [new(low.X, y), new(high.X, y)],
                    [new(low.X, low.Y + 2), new(low.X, y + 3)],
                    [new(high.X, low.Y + 2), new(high.X, y + 3)],
                ],
                Weight: 0.4
            )
        );
        _marks.Add(
            new Label(
                "dimensions",
                Number(size),
                new((low.X + high.X) / 2, y + 3),
                Face.MonoBold,
                8,
                Align.Centre,
                Halo: true
            )
        );
        if (high.X - low.X < 110)
            return;
        _marks.Add(new Label("dimensions", Number(from), new(low.X, y + 10), Face.Mono, 6.5, Align.Centre));
        _marks.Add(new Label("dimensions", Number(to), new(high.X, y + 10), Face.Mono, 6.5, Align.Centre));
    }

    /// <summary>A second blank that is not as high as the first has its own dimension on the right.</summary>
    static bool SecondUpright(Scene scene, ViewFrom from) =>
        from != ViewFrom.Front
        && scene.Stock.Count > 1
        && Math.Abs(Depth(scene.Stock[0]) - Depth(scene.Stock[1])) > 1e-6;

    static double Depth(Solid solid) => solid.Max.Y - solid.Min.Y;

    /// <param name="x">Where the line stands.</param>
    /// <param name="words">Left end of its figures.</param>
    void Upright(Spot low, Spot high, double size, double from, double to, double x, double words)
    {
        _marks.Add(
            new Strokes(
                "dimensions",
                [
                    [new(x, low.Y), new(x, high.Y)],
                    [new(x, low.Y), new(x < low.X ? low.X - 2 : high.X + 2, low.Y)],
                    [new(x, high.Y), new(x < low.X ? low.X - 2 : high.X + 2, high.Y)],
                ],
                Weight: 0.4
            )
        );
        var middle = (low.Y + high.Y) / 2;
        _places.Take(words - 1, middle - 6, Left - 2, 12);
        _marks.Add(new Label("dimensions", Number(size), new(words, middle + 3), Face.MonoBold, 8, Halo: true));
        if (low.Y - high.Y < 34)
            return;
        _marks.Add(new Label("dimensions", Number(to), new(words, high.Y - 2), Face.Mono, 6.5, Halo: true));
        _marks.Add(new Label("dimensions", Number(from), new(words, low.Y + 7.5), Face.Mono, 6.5, Halo: true));
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
        _marks.Add(
            new Label(
                "tallest",
                $"tallest: {tallest.Name}{above}",
                new(right, y - 2.5),
                Face.SansBold,
                7,
                Align.Right,
                Halo: true
            )
        );
        _places.Take(right - 150, y - 10, 150, 11);
    }

    void AddName(Solid held)
    {
        var (low, high) = _view.Corners(held);
        var middle = new Spot((low.X + high.X) / 2, (low.Y + high.Y) / 2);
        AddName("holding", held.Name, Face.Sans, 7, middle, middle);
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

    string Number(double value) => Figures.Register((decimal)Math.Round(value, 6), _scene.Units);
}
