using Handwheel.Nc;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>A rectangle of a picture, in points.</summary>
readonly record struct Frame(double X, double Y, double Width, double Height);

/// <summary>How setup space is laid into a frame of the picture, seen from one side.</summary>
sealed class View
{
    /// <summary>Steps smaller than this on paper are not drawn.</summary>
    const double Finest = 0.2;
    readonly ViewFrom _from;
    readonly double _left;
    readonly double _bottom;
    readonly double _low;
    readonly double _side;

    View(ViewFrom from, Frame frame, Extent extent)
    {
        (_from, Frame) = (from, frame);
        Scale = Math.Min(frame.Width / extent.Width, frame.Height / extent.Height);
        (_side, _low) = (extent.LowU, extent.LowV);
        _left = frame.X + ((frame.Width - (extent.Width * Scale)) / 2);
        _bottom = frame.Y + frame.Height - ((frame.Height - (extent.Height * Scale)) / 2);
        Drawn = new(_left, _bottom - (extent.Height * Scale), extent.Width * Scale, extent.Height * Scale);
    }

    public Frame Frame { get; }

    /// <summary>The part of the frame that the scene fills.</summary>
    public Frame Drawn { get; }

    /// <summary>Points for one unit of length.</summary>
    public double Scale { get; }

    public static View Of(Scene scene, ViewFrom from, Frame frame) => new(from, frame, ExtentOf(scene, from));

    /// <summary>Height over width of what is to be seen.</summary>
    public static double Shape(Scene scene, ViewFrom from)
    {
        var extent = ExtentOf(scene, from);
        return extent.Height / extent.Width;
    }

    static Extent ExtentOf(Scene scene, ViewFrom from)
    {
        var extent = new Extent();
        foreach (var corner in scene.Stock.Concat(scene.Holding).SelectMany(Projection.Corners))
            extent.Add(corner, from);
        foreach (var zero in scene.Zeros)
            extent.Add(zero.At, from);
        if (from == ViewFrom.Travel)
        {
            extent.Add(scene.Travel.Min, from);
            extent.Add(scene.Travel.Max, from);
            return extent.Padded(0);
        }
        var cuts = scene.Path.Where(r => !r.Rapid).ToList();
        var shown = cuts.Count + scene.Stock.Count + scene.Holding.Count > 0 ? cuts : scene.Path;
        foreach (var place in shown.SelectMany(r => r.Tip))
        {
            extent.Add(place, from);
            if (Projection.ShowsZ(from) && scene.Raise is { } raise)
                extent.Add(place with { Z = place.Z + raise }, from);
        }
        foreach (var pass in PartView.MarksPasses(from) ? scene.Passes : [])
        {
            extent.Add(pass.Tip with { X = pass.Tip.X - pass.Radius, Y = pass.Tip.Y - pass.Radius }, from);
            extent.Add(pass.Tip with { X = pass.Tip.X + pass.Radius, Y = pass.Tip.Y + pass.Radius }, from);
        }
        return extent.Padded(scene.Units == Units.Inch ? 1 : 25);
    }

    public Spot At(Place3 place, double raise)
    {
        var (right, up) = Projection.Of(_from, place with { Z = place.Z + raise });
        return new(_left + ((right - _side) * Scale), Y(up));
    }

    /// <summary>Where lines that go on above the picture end.</summary>
    public double TopEdge => Frame.Y - 2;

    public double Y(double upwards) => _bottom - ((upwards - _low) * Scale);

    /// <summary>Lower left and upper right corner as seen from this side.</summary>
    public (Spot Low, Spot High) Corners(Solid solid) => (At(solid.Min, 0), At(solid.Max, 0));

    /// <summary>The runs as lines of the picture: cut off at the frame, steps too fine to see left out.</summary>
    public IReadOnlyList<IReadOnlyList<Spot>> Lines(IEnumerable<TipRun> runs, double raise)
    {
        var lines = new List<IReadOnlyList<Spot>>();
        var line = new List<Spot>();
        foreach (var run in runs)
        {
            var last = At(run.Tip[0], raise);
            for (var i = 1; i < run.Tip.Count; i++)
            {
                var next = At(run.Tip[i], raise);
                if (i < run.Tip.Count - 1 && Math.Abs(next.X - last.X) + Math.Abs(next.Y - last.Y) < Finest)
                    continue;
                Append(last, next);
                last = next;
            }
            End();
        }
        return lines;

        void Append(Spot from, Spot to)
        {
            if (Clip(from, to) is not { } seen)
            {
                End();
                return;
            }
            if (line.Count > 0 && line[^1] != seen.From)
                End();
            if (line.Count == 0)
                line.Add(seen.From);
            if (line[^1] != seen.To)
                line.Add(seen.To);
        }

        void End()
        {
            if (line.Count > 1)
                lines.Add(line);
            line = [];
        }
    }

    /// <summary>Liang and Barsky, "A new concept and method for line clipping", 1984.</summary>
    (Spot From, Spot To)? Clip(Spot a, Spot b)
    {
        var (dx, dy) = (b.X - a.X, b.Y - a.Y);
        double enter = 0;
        double leave = 1;
        var inside =
            Side(-dx, a.X - (Frame.X - 6))
            && Side(dx, Frame.X + Frame.Width + 6 - a.X)
            && Side(-dy, a.Y - TopEdge)
            && Side(dy, Frame.Y + Frame.Height + 4 - a.Y);
        return inside
            ? (
                enter > 0 ? new(a.X + (enter * dx), a.Y + (enter * dy)) : a,
                leave < 1 ? new(a.X + (leave * dx), a.Y + (leave * dy)) : b
            )
            : null;

        bool Side(double p, double q)
        {
            if (p == 0)
                return q >= 0;
            if (p < 0)
                enter = Math.Max(enter, q / p);
            else
                leave = Math.Min(leave, q / p);
            return enter <= leave;
        }
    }

    sealed class Extent
    {
        double _highU = double.NegativeInfinity;
        double _highV = double.NegativeInfinity;

        public double LowU { get; private set; } = double.PositiveInfinity;

        public double LowV { get; private set; } = double.PositiveInfinity;

        public double Width => _highU - LowU;

        public double Height => _highV - LowV;

        public void Add(Place3 place, ViewFrom from)
        {
            var (right, up) = Projection.Of(from, place);
            (LowU, _highU) = (Math.Min(LowU, right), Math.Max(_highU, right));
            (LowV, _highV) = (Math.Min(LowV, up), Math.Max(_highV, up));
        }

        /// <param name="least">What is shown where there is nothing but a place.</param>
        public Extent Padded(double least)
        {
            if (double.IsInfinity(LowU))
                (LowU, LowV, _highU, _highV) = (0, 0, 0, 0);
            var size = Math.Max(Width, Height);
            var room = size > 0 ? size * 0.02 : least / 2;
            (LowU, LowV, _highU, _highV) = (LowU - room, LowV - room, _highU + room, _highV + room);
            return this;
        }
    }
}
