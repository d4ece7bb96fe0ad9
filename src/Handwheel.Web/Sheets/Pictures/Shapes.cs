namespace Handwheel.Web.Sheets.Pictures;

static class Shapes
{
    const double HatchStep = 5;

    public static IReadOnlyList<Spot> Circle(Spot centre, double radius, int corners = 36) =>
        [.. Enumerable.Range(0, corners).Select(i => On(centre, radius, 2 * Math.PI * i / corners))];

    /// <summary>A quarter of a disc; 0 is the one between right and up, counted counterclockwise.</summary>
    public static IReadOnlyList<Spot> Quarter(Spot centre, double radius, int quarter) =>
        [centre, .. Enumerable.Range(0, 10).Select(i => On(centre, radius, Math.PI / 2 * (quarter + (i / 9.0))))];

    static Spot On(Spot centre, double radius, double angle) =>
        new(centre.X + (radius * Math.Cos(angle)), centre.Y - (radius * Math.Sin(angle)));

    /// <summary>Slanted lines inside a box given by its lower left and upper right corner.</summary>
    public static IReadOnlyList<IReadOnlyList<Spot>> HatchBox(Spot low, Spot high)
    {
        var lines = new List<IReadOnlyList<Spot>>();
        for (var sum = Math.Ceiling((low.X + high.Y) / HatchStep) * HatchStep; sum < high.X + low.Y; sum += HatchStep)
        {
            var left = Math.Max(low.X, sum - low.Y);
            var right = Math.Min(high.X, sum - high.Y);
            if (right > left)
                lines.Add([new(left, sum - left), new(right, sum - right)]);
        }
        return lines;
    }

    /// <summary>Slanted lines inside a convex outline.</summary>
    public static IReadOnlyList<IReadOnlyList<Spot>> Hatch(IReadOnlyList<Spot> outline)
    {
        var lines = new List<IReadOnlyList<Spot>>();
        var (first, last) = (outline.Min(s => s.X + s.Y), outline.Max(s => s.X + s.Y));
        for (var sum = Math.Ceiling(first / HatchStep) * HatchStep; sum < last; sum += HatchStep)
        {
            var ends = new List<Spot>();
            for (var i = 0; i < outline.Count; i++)
            {
                var (a, b) = (outline[i], outline[(i + 1) % outline.Count]);
                var (from, to) = (a.X + a.Y - sum, b.X + b.Y - sum);
                if (from < 0 == to < 0)
                    continue;
                var share = from / (from - to);
                ends.Add(new(a.X + (share * (b.X - a.X)), a.Y + (share * (b.Y - a.Y))));
            }
            if (ends.Count == 2)
                lines.Add(ends);
        }
        return lines;
    }

    /// <summary>Slanted lines inside the circle that fills the box.</summary>
    public static IReadOnlyList<IReadOnlyList<Spot>> HatchCircle(Spot low, Spot high)
    {
        var lines = new List<IReadOnlyList<Spot>>();
        var (x, y, radius) = ((low.X + high.X) / 2, (low.Y + high.Y) / 2, (high.X - low.X) / 2);
        var reach = radius * Math.Sqrt(2);
        for (var sum = Math.Ceiling((x + y - reach) / HatchStep) * HatchStep; sum < x + y + reach; sum += HatchStep)
        {
            var away = (sum - x - y) / 2;
            var half = Math.Sqrt(Math.Max(0, ((radius * radius) - (2 * away * away)) / 2));
            lines.Add([new(x + away - half, y + away + half), new(x + away + half, y + away - half)]);
        }
        return lines;
    }
}
