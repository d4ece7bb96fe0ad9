namespace Handwheel.Web.Sheets.Pictures;

/// <summary>Part zero, the copy that the raise lifts, and rapids that leave the picture.</summary>
public sealed partial class PartView
{
    const double ZeroRadius = 6;

    /// <summary>How long an axis is drawn, as long as its name finds a place there, points.</summary>
    static readonly double[] Arms = [24, 20, 16, 12];

    /// <summary>Part zeros that stand behind each other are one mark.</summary>
    void AddZeros()
    {
        var marked = new List<Spot>();
        foreach (var at in _scene.Zeros.Select(z => _view.At(z.At, 0)))
        {
            if (marked.Exists(m => Math.Abs(m.X - at.X) + Math.Abs(m.Y - at.Y) < 1))
                continue;
            marked.Add(at);
            _places.Take(at.X - 7, at.Y - 7, 14, 14);
        }
        foreach (var at in marked)
            AddZero(at);
    }

    void AddZero(Spot at)
    {
        _marks.Add(new Strokes("zero", [Shapes.Circle(at, ZeroRadius)], Weight: 0.8, Fill: "#ffffff", Closed: true));
        _marks.Add(
            new Strokes(
                "zero",
                [Shapes.Quarter(at, ZeroRadius, 0), Shapes.Quarter(at, ZeroRadius, 2)],
                null,
                Fill: "#000000",
                Closed: true
            )
        );
        foreach (var (name, right, up) in Projection.Axes(_from))
        {
            var (dx, dy) = (right, -up);
            var (arm, middle) = AxisName(at, dx, dy);
            var tip = new Spot(at.X + (arm * dx), at.Y + (arm * dy));
            Spot Barb(int side) => new(tip.X - (4 * dx) - (2 * side * dy), tip.Y - (4 * dy) + (2 * side * dx));
            _marks.Add(
                new Strokes(
                    "zero",
                    [
                        [at, tip],
                        [Barb(1), tip, Barb(-1)],
                    ],
                    Weight: 0.9
                )
            );
            TakeArm(at, arm * dx, arm * dy);
            var baseline = middle with { Y = middle.Y + 2.5 };
            _marks.Add(new Label("zero", name, baseline, Face.SansBold, 7, Align.Centre, Halo: true));
        }
    }

    /// <summary>How long an axis is, and the middle of its name: at its end, or beside it where a title or a dimension stands there.</summary>
    (double Arm, Spot Middle) AxisName(Spot at, double dx, double dy)
    {
        const double half = 3.5;
        foreach (var arm in Arms)
        {
            var middle = new Spot(at.X + ((arm + 5) * dx), at.Y + ((arm + 5) * dy));
            if (_places.TryTake(middle, 2 * half, 2 * half))
                return (arm, middle);
        }
        const double least = 10;
        foreach (var side in new[] { 8, -8 })
        {
            var middle = new Spot(at.X + (least * dx) - (side * dy), at.Y + (least * dy) + (side * dx));
            if (_places.TryTake(middle, 2 * half, 2 * half))
                return (least, middle);
        }
        return (Arms[0], new(at.X + ((Arms[0] + 5) * dx), at.Y + ((Arms[0] + 5) * dy)));
    }

    /// <summary>An axis, from part zero to its end.</summary>
    void TakeArm(Spot at, double right, double down)
    {
        const double half = 5;
        var (x, y) = (at.X + Math.Min(0, right), at.Y + Math.Min(0, down));
        var (width, height) = (Math.Abs(right), Math.Abs(down));
        _places.Take(
            width < half ? at.X - half : x,
            height < half ? at.Y - half : y,
            Math.Max(width, 2 * half),
            Math.Max(height, 2 * half)
        );
    }

    void AddZeroName(PartZero zero)
    {
        var at = _view.At(zero.At, 0);
        AddName("zero", zero.WorkOffset, Face.MonoBold, 8, new(at.X - 20, at.Y + 13), at);
    }

    void AddRaised(double raise)
    {
        var cuts = _scene.Path.Where(r => !r.Rapid).ToList();
        if (cuts.Count == 0)
            return;
        _marks.Add(new Strokes("raised", _view.Lines(cuts, raise), "#808890", 0.6, [1, 1.5]));
        var lowest = cuts.SelectMany(c => c.Tip).MinBy(p => p.Z);
        var x = _view.Drawn.X + _view.Drawn.Width + 10;
        var (from, to) = (_view.At(lowest, 0).Y, _view.At(lowest, raise).Y);
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
        _places.Take(x - 4, to, 8, from - to);
        var middle = ClearOfTallest((from + to) / 2);
        _marks.Add(new Label("raised", "raised", new(x + 4, middle - 2), Face.Sans, 7));
        _marks.Add(new Label("raised", Number(raise), new(x + 4, middle + 7), Face.MonoBold, 8));
        _places.Take(x - 4, middle - 9, RaisedEdge, 18);
    }

    /// <summary>The name of the tallest thing stands above its line, on the right: the raise goes below it.</summary>
    double ClearOfTallest(double middle) =>
        Projection.IsFlat(_from)
        && _scene.Tallest is { } tallest
        && _view.Y(tallest.Max.Z) is var line
        && middle > line - 20
        && middle < line + 12
            ? line + 12
            : middle;

    /// <summary>Rapids that go on above the picture end in a head that points there. How far is not said: it would give a blind reading away.</summary>
    void AddLeaving(List<Spot> ends)
    {
        if (ends.Count == 0)
            return;
        var y = _view.TopEdge;
        foreach (var x in ends.Select(e => Math.Round(e.X / 3) * 3).Distinct().Order())
            _marks.Add(
                new Strokes(
                    "leaving",
                    [
                        [new(x - 2.5, y + 5), new(x, y), new(x + 2.5, y + 5)],
                    ],
                    Weight: 0.7
                )
            );
        if (!Projection.ShowsZ(_from))
            return;
        var right = _view.Frame.X + _view.Frame.Width;
        AddFixed(new("leaving", "rapids go on up", new(right, y - 1.5), Face.Sans, 6.5, Align.Right, Halo: true));
    }
}
