using System.Globalization;

namespace Handwheel.Web.Sheets.Pictures;

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
        _view = View.Of(scene, from, new(Left, Top, width - Left - Right(scene, from), height - Top - Foot));
    }

    static double Right(Scene scene, ViewFrom from) =>
        Projection.ShowsZ(from) && scene.Raise > 0 || SecondUpright(scene, from) ? Edge + RaisedEdge : Edge;

    /// <summary>A picture of <paramref name="width"/> × <paramref name="height"/> points.</summary>
    public static Picture Draw(Scene scene, ViewFrom from, double width, double height) =>
        new PartView(scene, from, width, height).Draw();

    /// <summary>The height at which a picture of this width has no empty ground above and below, within limits, points.</summary>
    public static double HeightFor(Scene scene, ViewFrom from, double width, double least, double most) =>
        Math.Clamp((View.Shape(scene, from) * (width - Left - Right(scene, from))) + Top + Foot, least, most);

    /// <summary>Whether this view has the places at which the tool comes nearest to the holding.</summary>
    public static bool MarksPasses(ViewFrom from) => from is ViewFrom.Top or ViewFrom.AsCut or ViewFrom.Isometric;

    Picture Draw()
    {
        var title = _from switch
        {
            ViewFrom.Top => "Top view: X right, Y up",
            ViewFrom.Front => "Front view: X right, Z up",
            ViewFrom.Side => "Side view from the right: Y right, Z up",
            ViewFrom.Isometric => "From the front left: X, Y and Z to one scale",
            ViewFrom.Travel => "In the travel of X and Y, machine coordinates",
            _ => "As cut, from above: X right, Y up",
        };
        AddFixed(new("title", title, new(0, 9), Face.SansBold, 8.5));
        AddSolids();
        if (_from == ViewFrom.AsCut)
            AddCut();
        else if (_from == ViewFrom.Travel)
            AddTravel();
        else
            AddPath();
        if (_from is not (ViewFrom.Isometric or ViewFrom.Travel))
            for (var i = 0; i < _scene.Stock.Count; i++)
                AddDimensions(_scene.Stock[i], i);
        AddZeros();
        if (_from is ViewFrom.Front or ViewFrom.Side)
            AddTallest();
        if (_from is not (ViewFrom.AsCut or ViewFrom.Travel))
            AddToolNumbers();
        if (MarksPasses(_from))
            AddPasses();
        foreach (var zero in _scene.Zeros)
            AddZeroName(zero);
        if (_from != ViewFrom.Travel)
            foreach (var held in _scene.Holding.OrderBy(IsBehind))
                AddName(held);
        if (_from == ViewFrom.AsCut)
            AddDepths();
        AddScaleBar();
        return new(title, _width, _height, _marks);
    }

    void AddSolids()
    {
        if (!Projection.IsFlat(_from))
        {
            AddSolidsInDepth();
            return;
        }
        foreach (var stock in _scene.Stock)
            AddStock(stock);
        var far = _scene.Holding.OrderByDescending(h => _from == ViewFrom.Side ? -h.Max.X : h.Max.Y);
        foreach (var held in far)
            AddHolding(held);
    }

    void AddStock(Solid stock) =>
        _marks.Add(new Strokes("stock", [Outline(stock)], Weight: 0.9, Fill: "#e6e9ec", Closed: true));

    void AddHolding(Solid held)
    {
        var round = held.Round && !Projection.ShowsZ(_from);
        var (low, high) = _view.Corners(held);
        var hatch = round ? Shapes.HatchCircle(low, high) : Shapes.HatchBox(low, high);
        _marks.Add(new Strokes("holding", hatch, Weight: 0.35));
        _marks.Add(new Strokes("holding", [Outline(held)], Weight: 1, Closed: true));
    }

    IReadOnlyList<Spot> Outline(Solid solid)
    {
        var (low, high) = _view.Corners(solid);
        return solid.Round && !Projection.ShowsZ(_from)
            ? Shapes.Circle(new((low.X + high.X) / 2, (low.Y + high.Y) / 2), (high.X - low.X) / 2)
            : [new(low.X, low.Y), new(high.X, low.Y), new(high.X, high.Y), new(low.X, high.Y)];
    }

    void AddPath()
    {
        var looks = ToolLook.For(_scene.Path.Select(r => r.Tool));
        if (Projection.ShowsZ(_from) && _scene.Raise is > 0 and { } raise)
            AddRaised(raise);
        var leaving = new List<Spot>();
        foreach (var tool in _scene.Path.GroupBy(r => r.Tool))
        {
            var look = looks[tool.Key];
            var rapids = _view.Lines(tool.Where(r => r.Rapid), 0);
            if (rapids.Count > 0)
                _marks.Add(new Strokes("rapids", rapids, look.Colour, 0.4, look.Dash));
            leaving.AddRange(rapids.SelectMany(l => new[] { l[0], l[^1] }).Where(s => s.Y < _view.TopEdge + 0.01));
            var cuts = _view.Lines(tool.Where(r => !r.Rapid), 0);
            if (cuts.Count > 0)
                _marks.Add(new Strokes("cuts", cuts, look.Colour, 1.1));
        }
        AddLeaving(leaving);
    }

    void AddToolNumbers()
    {
        var looks = ToolLook.For(_scene.Path.Select(r => r.Tool));
        foreach (var tool in _scene.Path.Where(r => !r.Rapid).GroupBy(r => r.Tool))
            AddToolNumber(tool.Key, looks[tool.Key].Colour, tool.First());
    }

    void AddToolNumber(int tool, string colour, TipRun first)
    {
        var begins = _view.At(first.Tip[0], 0);
        var at = _places.Near(begins, 13, 13, _width, _height);
        if (Math.Abs(at.X - begins.X) + Math.Abs(at.Y - begins.Y) > 9)
            _marks.Add(
                new Strokes(
                    "tools",
                    [
                        [begins, at],
                    ],
                    colour,
                    0.5
                )
            );
        _marks.Add(new Strokes("tools", [Shapes.Circle(at, 6)], colour, 1.2, Fill: "#ffffff", Closed: true));
        var text = tool.ToString(CultureInfo.InvariantCulture);
        _marks.Add(new Label("tools", text, at with { Y = at.Y + 2.6 }, Face.MonoBold, 7.5, Align.Centre));
    }

    /// <summary>Writes a name where nothing else stands, with a line to what it names when that is not near.</summary>
    void AddName(string layer, string name, Face face, double size, Spot wanted, Spot named) =>
        AddName(layer, name, face, size, wanted, _ => named);

    /// <param name="named">Where the line ends, from where the name stands.</param>
    void AddName(string layer, string name, Face face, double size, Spot wanted, Func<Spot, Spot> named)
    {
        name = Short(name, face, size);
        var at = _places.Near(wanted, Ink.Room(name, face, size) + 3, size * 1.2, _width, _height - Foot + 8);
        if (Math.Abs(at.X - wanted.X) + Math.Abs(at.Y - wanted.Y) > 9)
            _marks.Add(
                new Strokes(
                    layer,
                    [
                        [at, named(at)],
                    ],
                    Weight: 0.35
                )
            );
        _marks.Add(new Label(layer, name, at with { Y = at.Y + (size * 0.35) }, face, size, Align.Centre, Halo: true));
    }

    void AddName(Solid held)
    {
        var (low, high) = Projection.IsFlat(_from)
            ? _view.Corners(held)
            : (_view.At(held.Min with { Z = held.Max.Z }, 0), _view.At(held.Max, 0));
        var middle = new Spot((low.X + high.X) / 2, (low.Y + high.Y) / 2);
        AddName("holding", IsBehind(held) ? $"{held.Name} (behind)" : held.Name, Face.Sans, 7, middle, middle);
    }

    /// <summary>From the front or the side: a piece that stands nearer covers all of it.</summary>
    bool IsBehind(Solid held)
    {
        if (_from is not (ViewFrom.Front or ViewFrom.Side))
            return false;
        var (low, high) = _view.Corners(held);
        return _scene.Holding.Any(other =>
            (_from == ViewFrom.Front ? other.Min.Y < held.Min.Y : other.Max.X > held.Max.X)
            && _view.Corners(other) is var (otherLow, otherHigh)
            && Math.Min(otherLow.X, otherHigh.X) <= Math.Min(low.X, high.X)
            && Math.Max(otherLow.X, otherHigh.X) >= Math.Max(low.X, high.X)
            && Math.Min(otherLow.Y, otherHigh.Y) <= Math.Min(low.Y, high.Y)
            && Math.Max(otherLow.Y, otherHigh.Y) >= Math.Max(low.Y, high.Y)
        );
    }

    /// <summary>A name that is wider than the picture ends in "…".</summary>
    string Short(string name, Face face, double size)
    {
        var end = name.Length;
        while (end > 1 && Ink.Room(name[..end], face, size) > _width * 0.9)
            end -= char.IsLowSurrogate(name[end - 1]) ? 2 : 1;
        return end == name.Length ? name : name[..end] + "…";
    }

    /// <summary>A text at a place of its own; what is named later goes round it.</summary>
    void AddFixed(Label label)
    {
        _marks.Add(label);
        var width = Ink.Room(label.Text, label.Face, label.Size);
        var left = label.Align switch
        {
            Align.Centre => label.At.X - (width / 2),
            Align.Right => label.At.X - width,
            _ => label.At.X,
        };
        _places.Take(left - 1, label.At.Y - (0.8 * label.Size), width + 2, label.Size);
    }

    /// <summary>How large a view of this size is drawn, points for one unit of length.</summary>
    public static double Scale(Scene scene, ViewFrom from, double width, double height) =>
        new PartView(scene, from, width, height)._view.Scale;

    string Number(double value) => Figures.Register((decimal)Math.Round(value, 6), _scene.Units);
}
