namespace Handwheel.Nc;

enum CornerKind : byte
{
    /// <summary>The two ways meet where the moves do: they touch, or all but touch.</summary>
    Smooth,

    /// <summary>The tool goes round the corner.</summary>
    Outside,

    /// <summary>The tool is in the corner and does not reach it.</summary>
    Inside,
}

/// <param name="Place">Where the two ways cross.</param>
/// <param name="CutFirst">What the first way loses at its end, nm along it.</param>
/// <param name="CutSecond">What the second loses at its start.</param>
readonly record struct Meeting(PlaneVector Place, double CutFirst, double CutSecond);

/// <summary>Where the ways beside two moves meet (plane geometry). Lengths in nm; both moves have the same <see cref="Edge.Beside"/>.</summary>
static class OffsetCorner
{
    /// <summary>Nearer than this is the same place: the rounding of programmed places to whole nm, with some to spare.</summary>
    public const double Same = 20;

    public static CornerKind KindOf(in Edge first, in Edge second)
    {
        if ((first.BesideEnd - second.BesideStart).Length <= Same)
            return CornerKind.Smooth;
        var (a, b) = (first.EndDirection, second.StartDirection);
        // straight back: inside only where arcs bend away so that their ways cross
        if (a.Dot(b) < 0 && Math.Abs(a.Cross(b)) < 1e-7)
            return TryMeet(first, second, first.Length, out _) ? CornerKind.Inside : CornerKind.Outside;
        return a.Cross(b) * first.Beside > 0 ? CornerKind.Inside : CornerKind.Outside;
    }

    /// <summary>The turn of an outside corner, signed: the tool on the left goes round it to the right.</summary>
    public static double Turn(in Edge first, in Edge second)
    {
        var (a, b) = (first.EndDirection, second.StartDirection);
        return Math.Abs(Math.Atan2(a.Cross(b), a.Dot(b))) * -Math.Sign(first.Beside);
    }

    /// <summary>
    /// The two places between which straight lines go round an outside corner, the same place up to a right angle. Beyond it
    /// each way is made longer by the radius (common practice, no source), so that the tool does not run far past a sharp corner.
    /// </summary>
    public static (PlaneVector First, PlaneVector Second) Lengthened(in Edge first, in Edge second)
    {
        var (a, b) = (first.EndDirection, second.StartDirection);
        var dot = a.Dot(b);
        if (dot >= -1e-9)
        {
            var meet = first.BesideEnd + a * (Math.Abs(first.Beside) * Math.Abs(a.Cross(b)) / (1 + dot));
            return (meet, meet);
        }
        var radius = Math.Abs(first.Beside);
        return (first.BesideEnd + a * radius, second.BesideStart - b * radius);
    }

    /// <summary>How much a straight way loses at an inside corner between two lines: r·tan(θ/2).</summary>
    public static double CutOfLines(in Edge first, in Edge second)
    {
        var (a, b) = (first.EndDirection, second.StartDirection);
        return Math.Abs(first.Beside) * Math.Abs(a.Cross(b)) / Math.Max(1e-12, 1 + a.Dot(b));
    }

    /// <summary>Where the ways cross at an inside corner, on both of them. <paramref name="room"/> is what is left of the first.</summary>
    public static bool TryMeet(in Edge first, in Edge second, double room, out Meeting meeting)
    {
        meeting = default;
        Span<PlaneVector> places = stackalloc PlaneVector[2];
        var count = Crossings(first, second, places);
        var found = false;
        for (var i = 0; i < count; i++)
        {
            var (cutFirst, cutSecond) = (first.FromEnd(places[i]), second.FromStart(places[i]));
            if (cutFirst < -Same || cutSecond < -Same || cutFirst > room + Same || cutSecond > second.Length + Same)
                continue;
            if (found && cutFirst + cutSecond >= meeting.CutFirst + meeting.CutSecond)
                continue;
            found = true;
            meeting = new(places[i], Math.Max(0, cutFirst), Math.Max(0, cutSecond));
        }
        return found;
    }

    static int Crossings(in Edge first, in Edge second, Span<PlaneVector> places)
    {
        if (first.IsArc && second.IsArc)
            return TwoCircles(first, second, places);
        if (second.IsArc)
            return LineAndCircle(
                first.BesideEnd,
                first.EndDirection * -1,
                second.BesideStart,
                second.Centre,
                second.StartRadius,
                places
            );
        if (first.IsArc)
            return LineAndCircle(
                second.BesideStart,
                second.StartDirection,
                first.BesideEnd,
                first.Centre,
                first.EndRadius,
                places
            );
        if (first.EndDirection.Dot(second.StartDirection) < -1 + 1e-12)
            return 0;
        places[0] = first.BesideEnd - first.EndDirection * CutOfLines(first, second);
        return 1;
    }

    /// <summary>
    /// A line through <paramref name="on"/> and a circle through <paramref name="point"/>, which lie near each other, so that small
    /// differences stay exact.
    /// </summary>
    static int LineAndCircle(
        PlaneVector on,
        PlaneVector way,
        PlaneVector point,
        PlaneVector centre,
        double radius,
        Span<PlaneVector> places
    )
    {
        if (radius <= 0)
            return 0;
        var gap = on - point;
        var outside = gap.Dot(gap) + 2 * gap.Dot(point - centre);
        var middle = -(on - centre).Dot(way);
        var root = middle * middle - outside;
        if (root < 0)
            return 0;
        var half = Math.Sqrt(root);
        // the smaller of two lengths from the product of both
        var far = middle >= 0 ? middle + half : middle - half;
        places[0] = on + way * far;
        places[1] = on + way * (far == 0 ? 0 : outside / far);
        return 2;
    }

    static int TwoCircles(in Edge first, in Edge second, Span<PlaneVector> places)
    {
        var (r, q) = (first.EndRadius, second.StartRadius);
        var between = second.Centre - first.Centre;
        var distance = between.Length;
        if (r <= 0 || q <= 0 || distance < Same)
            return 0;
        var along = (distance * distance + (r - q) * (r + q)) / (2 * distance);
        var root = (r - along) * (r + along);
        if (root < 0)
            return 0;
        var way = between * (1 / distance);
        var middle = first.Centre + way * along;
        places[0] = middle + way.Left * Math.Sqrt(root);
        places[1] = middle - way.Left * Math.Sqrt(root);
        return 2;
    }
}
