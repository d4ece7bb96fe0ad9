namespace Handwheel.Web.Sheets.Pictures;

/// <summary>Puts boxes into the order in which they are painted, seen from the front left and above: what is behind comes first.</summary>
static class BackToFront
{
    const double Touching = 1e-9;

    public static IReadOnlyList<Solid> Order(IEnumerable<Solid> solids)
    {
        var left = solids.ToList();
        var ordered = new List<Solid>();
        while (left.Count > 0)
        {
            var next = left.FindIndex(s => !left.Exists(o => o != s && IsBehind(o, s) && !IsBehind(s, o)));
            // boxes that stand in each other have no order
            next = Math.Max(0, next);
            ordered.Add(left[next]);
            left.RemoveAt(next);
        }
        return ordered;
    }

    /// <summary>A plane between them has <paramref name="a"/> on the far side.</summary>
    static bool IsBehind(Solid a, Solid b) =>
        a.Min.X >= b.Max.X - Touching || a.Min.Y >= b.Max.Y - Touching || a.Max.Z <= b.Min.Z + Touching;
}
