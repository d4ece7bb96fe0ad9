namespace Handwheel.Web.Sheets.Pictures;

/// <summary>Stock and holding with their depth: what is behind is painted first, so that no hidden line is left.</summary>
public sealed partial class PartView
{
    void AddSolidsInDepth()
    {
        foreach (var solid in BackToFront.Order(_scene.Stock.Concat(_scene.Holding)))
        {
            var blank = _scene.Stock.ToList().IndexOf(solid);
            if (blank >= 0 && blank < _scene.AsCut.Count)
                _marks.AddRange(AsCutSolid.Of(_scene.AsCut[blank], _scene.Units, p => _view.At(p, 0)));
            else if (solid.Round)
                AddRound(solid);
            else
                AddBox(solid, blank >= 0);
        }
    }

    void AddBox(Solid box, bool isStock)
    {
        var (low, high) = (box.Min, box.Max);
        Spot At(double x, double y, double z) => _view.At(new(x, y, z), 0);
        Spot[] top =
        [
            At(low.X, low.Y, high.Z),
            At(high.X, low.Y, high.Z),
            At(high.X, high.Y, high.Z),
            At(low.X, high.Y, high.Z),
        ];
        Spot[] front = [top[0], top[1], At(high.X, low.Y, low.Z), At(low.X, low.Y, low.Z)];
        Spot[] left = [top[0], top[3], At(low.X, high.Y, low.Z), At(low.X, low.Y, low.Z)];
        var layer = isStock ? "stock" : "holding";
        _marks.Add(new Strokes(layer, [left], Weight: 0.7, Fill: isStock ? "#cdd3d9" : "#ffffff", Closed: true));
        _marks.Add(new Strokes(layer, [front], Weight: 0.7, Fill: isStock ? "#dbe0e4" : "#ffffff", Closed: true));
        _marks.Add(new Strokes(layer, [top], Weight: 0.7, Fill: isStock ? "#eceff1" : "#ffffff", Closed: true));
        if (!isStock)
            _marks.Add(new Strokes(layer, Shapes.Hatch(top), Weight: 0.35));
    }

    void AddRound(Solid round)
    {
        var radius = (round.Max.X - round.Min.X) / 2;
        var (x, y) = ((round.Min.X + round.Max.X) / 2, (round.Min.Y + round.Max.Y) / 2);
        IReadOnlyList<Spot> Ring(double z) => RingAt(new(x, y, z), radius);
        var (bottom, top) = (Ring(round.Min.Z), Ring(round.Max.Z));
        // the outline: half of the lower ring, half of the upper one
        var (right, left) = (Widest(top, +1), Widest(top, -1));
        Spot[] body = [top[left], bottom[left], .. Between(bottom, left, right), bottom[right], top[right]];
        _marks.Add(new Strokes("holding", [body], Weight: 0.7, Fill: "#ffffff", Closed: true));
        _marks.Add(new Strokes("holding", [top], Weight: 0.7, Fill: "#ffffff", Closed: true));
        _marks.Add(new Strokes("holding", Shapes.Hatch(top), Weight: 0.35));
    }

    /// <summary>A level circle around a place of setup space, as this view has it.</summary>
    IReadOnlyList<Spot> RingAt(Place3 centre, double radius) =>
        [
            .. Enumerable
                .Range(0, 36)
                .Select(i => 2 * Math.PI * i / 36)
                .Select(a =>
                    _view.At(
                        centre with
                        {
                            X = centre.X + (radius * Math.Cos(a)),
                            Y = centre.Y + (radius * Math.Sin(a)),
                        },
                        0
                    )
                ),
        ];

    static int Widest(IReadOnlyList<Spot> ring, int side) =>
        Enumerable.Range(0, ring.Count).MaxBy(i => ring[i].X * side);

    /// <summary>The places of a ring on its lower side, from one end to the other.</summary>
    static IEnumerable<Spot> Between(IReadOnlyList<Spot> ring, int from, int to)
    {
        var level = (ring[from].Y + ring[to].Y) / 2;
        return ring.Where((s, i) => i != from && i != to && s.Y > level).OrderBy(s => s.X);
    }

    /// <summary>Where the travel ends, in machine coordinates.</summary>
    void AddTravel()
    {
        var travel = _scene.Travel;
        var (low, high) = _view.Corners(travel);
        _marks.Add(new Strokes("travel", [Outline(travel)], Weight: 1.3, Dash: [7, 2, 2, 2], Closed: true));
        Say(Number(travel.Min.X), new(low.X, low.Y + 9), Align.Left);
        Say(Number(travel.Max.X), new(high.X, low.Y + 9), Align.Right);
        Say(Number(travel.Min.Y), new(low.X - 3, low.Y), Align.Right);
        Say(Number(travel.Max.Y), new(low.X - 3, high.Y + 6), Align.Right);

        void Say(string text, Spot at, Align align) =>
            _marks.Add(new Label("travel", text, at, Face.Mono, 6.5, align, Halo: true));
    }
}
