namespace Handwheel.Nc;

/// <summary>
/// A programmed move in the XY plane, and the way of the tool's centre beside it: a parallel line, or a circle about the same centre.
/// Lengths in nm, angles in radians.
/// </summary>
readonly record struct Edge
{
    public PlaneVector Start { get; private init; }
    public PlaneVector End { get; private init; }

    /// <summary>Of length 1, the way the tool goes.</summary>
    public PlaneVector StartDirection { get; private init; }
    public PlaneVector EndDirection { get; private init; }
    public bool IsArc { get; private init; }
    public PlaneVector Centre { get; private init; }

    /// <summary>Positive: counterclockwise.</summary>
    public double Sweep { get; private init; }

    /// <summary>How far left of the programmed move the centre goes; negative: right of it.</summary>
    public double Beside { get; private init; }

    public static Edge Line(PlaneVector start, PlaneVector end, double beside)
    {
        var direction = (end - start).Unit;
        return new()
        {
            Start = start,
            End = end,
            StartDirection = direction,
            EndDirection = direction,
            Beside = beside,
        };
    }

    public static Edge Arc(PlaneVector start, PlaneVector end, PlaneVector centre, double sweep, double beside)
    {
        var turn = Math.Sign(sweep);
        return new()
        {
            Start = start,
            End = end,
            StartDirection = (start - centre).Unit.Left * turn,
            EndDirection = (end - centre).Unit.Left * turn,
            IsArc = true,
            Centre = centre,
            Sweep = sweep,
            Beside = beside,
        };
    }

    public PlaneVector BesideStart => Start + StartDirection.Left * Beside;
    public PlaneVector BesideEnd => End + EndDirection.Left * Beside;

    /// <summary>Radius of the centre's way at the ends of an arc; below 0 where the tool does not fit into it.</summary>
    public double StartRadius => (Start - Centre).Length - Math.Sign(Sweep) * Beside;
    public double EndRadius => (End - Centre).Length - Math.Sign(Sweep) * Beside;

    /// <summary>Length of the centre's way.</summary>
    public double Length => IsArc ? Math.Max(0, StartRadius) * Math.Abs(Sweep) : (End - Start).Length;

    /// <summary>How much of the centre's way lies between a place on it and its end.</summary>
    public double FromEnd(PlaneVector place) =>
        IsArc ? Around(place, End, EndRadius) : (BesideEnd - place).Dot(EndDirection);

    /// <summary>How much of the centre's way lies between its start and a place on it.</summary>
    public double FromStart(PlaneVector place) =>
        IsArc ? Around(Start, place, StartRadius) : (place - BesideStart).Dot(StartDirection);

    double Around(PlaneVector from, PlaneVector to, double radius)
    {
        var (first, second) = (from - Centre, to - Centre);
        var angle = Math.Atan2(first.Cross(second), first.Dot(second)) * Math.Sign(Sweep);
        var length = angle * radius;
        return length < -OffsetCorner.Same ? length + Math.Tau * radius : length;
    }
}
