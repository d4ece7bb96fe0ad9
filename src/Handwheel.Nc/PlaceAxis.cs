namespace Handwheel.Nc;

/// <summary>The axes of a place by number: 0 X, 1 Y, 2 Z; and which of them a plane has.</summary>
static class PlaceAxis
{
    public const int X = 0;
    public const int Y = 1;
    public const int Z = 2;

    public static long Get(in Place place, int axis) =>
        axis switch
        {
            X => place.X,
            Y => place.Y,
            _ => place.Z,
        };

    public static int Rest(in Place place, int axis) =>
        axis switch
        {
            X => place.RestX,
            Y => place.RestY,
            _ => place.RestZ,
        };

    public static void Set(ref Place place, int axis, long value, int rest)
    {
        switch (axis)
        {
            case X:
                (place.X, place.RestX) = (value, rest);
                break;
            case Y:
                (place.Y, place.RestY) = (value, rest);
                break;
            default:
                (place.Z, place.RestZ) = (value, rest);
                break;
        }
    }

    public static Axes Flag(int axis) => (Axes)(1 << axis);

    /// <summary>The first and second axis of a plane (counterclockwise from first to second), and the one across it.</summary>
    public static (int U, int V, int W) Of(Plane plane) =>
        plane switch
        {
            Plane.XY => (X, Y, Z),
            Plane.ZX => (Z, X, Y),
            _ => (Y, Z, X),
        };
}
