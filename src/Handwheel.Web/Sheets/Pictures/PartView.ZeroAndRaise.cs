namespace Handwheel.Web.Sheets.Pictures;

/// <summary>Part zero, the copy that the raise lifts, and rapids that leave the picture.</summary>
public sealed partial class PartView
{
    void AddZero(PartZero zero)
    {
        const double arm = 24;
        var at = _view.At(zero.At, 0);
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
        foreach (var (name, right, up) in Projection.Axes(_from))
        {
            var (dx, dy) = (right, -up);
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
            var end = new Spot(at.X + ((arm + 5) * dx), at.Y + ((arm + 5) * dy) + 2.5);
            _marks.Add(new Label("zero", name, end, Face.SansBold, 7, Align.Centre, Halo: true));
        }
        _places.Take(at.X - 7, at.Y - 7, 14, 14);
        foreach (var (_, right, up) in Projection.Axes(_from))
            TakeArm(at, (arm + 10) * right, (arm + 10) * -up);
    }

    /// <summary>An axis and its name, from where the circle ends.</summary>
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
        _marks.Add(
            new Label("leaving", "rapids go on up", new(right, y - 1.5), Face.Sans, 6.5, Align.Right, Halo: true)
        );
    }
}
