namespace Handwheel.Web.Sheets.Pictures;

public enum ViewFrom
{
    /// <summary>X to the right, Y up.</summary>
    Top,

    /// <summary>X to the right, Z up.</summary>
    Front,

    /// <summary>X to the right, Y up; the stock as the program leaves it, without the path.</summary>
    AsCut,

    /// <summary>From the right: Y to the right, Z up.</summary>
    Side,

    /// <summary>From the front left and above: X to the right back, Y to the left back, Z up; lengths along all three to one scale.</summary>
    Isometric,

    /// <summary>X to the right, Y up; all of the travel, with what stands in it.</summary>
    Travel,
}

/// <summary>Where a place of setup space lies in a view: to the right and up, in lengths.</summary>
static class Projection
{
    /// <summary>
    /// In the isometric axonometry of ISO 5456-3 the axes stand at 120° to each other, Z upright, and the three scales are as 1 : 1 : 1.
    /// </summary>
    static readonly double Cos30 = Math.Sqrt(3) / 2;

    public static (double Right, double Up) Of(ViewFrom from, Place3 place) =>
        from switch
        {
            ViewFrom.Front => (place.X, place.Z),
            ViewFrom.Side => (place.Y, place.Z),
            ViewFrom.Isometric => ((place.X - place.Y) * Cos30, place.Z + ((place.X + place.Y) / 2)),
            _ => (place.X, place.Y),
        };

    /// <summary>Z is seen, so that a raise is.</summary>
    public static bool ShowsZ(ViewFrom from) => from is ViewFrom.Front or ViewFrom.Side or ViewFrom.Isometric;

    /// <summary>Two axes are seen square to each other, and the third not at all.</summary>
    public static bool IsFlat(ViewFrom from) => from != ViewFrom.Isometric;

    /// <summary>The axes that are seen, in the order in which they are named.</summary>
    public static IReadOnlyList<(string Name, double Right, double Up)> Axes(ViewFrom from)
    {
        (string Name, Place3 Step)[] all = [("X", new(1, 0, 0)), ("Y", new(0, 1, 0)), ("Z", new(0, 0, 1))];
        return
        [
            .. all.Select(a => (a.Name, Of(from, a.Step)))
                .Where(a => a.Item2 != (0, 0))
                .Select(a => (a.Name, a.Item2.Right, a.Item2.Up)),
        ];
    }

    public static IEnumerable<Place3> Corners(Solid solid) =>
        from x in new[] { solid.Min.X, solid.Max.X }
        from y in new[] { solid.Min.Y, solid.Max.Y }
        from z in new[] { solid.Min.Z, solid.Max.Z }
        select new Place3(x, y, z);
}
