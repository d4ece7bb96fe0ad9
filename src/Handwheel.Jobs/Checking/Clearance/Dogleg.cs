namespace Handwheel.Jobs.Checking.Clearance;

/// <summary>A rapid that moves each axis at its own rate: all start together, each stops when it is there.</summary>
static class Dogleg
{
    /// <summary>The corners of the path into <paramref name="points"/> (at least 4), both ends included; gives how many.</summary>
    public static int Path(TipPoint from, TipPoint to, in Rates rates, Span<TipPoint> points)
    {
        var x = Math.Abs(to.X - from.X) / rates.X;
        var y = Math.Abs(to.Y - from.Y) / rates.Y;
        var z = Math.Abs(to.Z - from.Z) / rates.Z;
        Span<double> times = [x, y, z];
        times.Sort();
        var count = 0;
        points[count++] = from;
        var last = 0.0;
        foreach (var time in times)
        {
            if (time <= last)
                continue;
            last = time;
            points[count++] = new TipPoint(
                Along(from.X, to.X, time, x),
                Along(from.Y, to.Y, time, y),
                Along(from.Z, to.Z, time, z)
            );
        }
        if (count > 1)
            points[count - 1] = to;
        return count;
    }

    static double Along(double from, double to, double time, double whole) =>
        time >= whole ? to : from + (to - from) * (time / whole);
}
