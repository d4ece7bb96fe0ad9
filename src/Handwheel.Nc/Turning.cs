namespace Handwheel.Nc;

/// <summary>
/// Mirror, scaling and rotation in force, from programmed coordinates to those that the axes go to: mirror first, then scaling, then
/// rotation (common practice). Lengths in nm, from the zero of the work offset with its shifts.
/// </summary>
sealed class Turning
{
    readonly double[] mirror = [double.NaN, double.NaN, double.NaN];
    readonly double[] scale = [1, 1, 1];
    readonly double[] scaleCentre = new double[3];
    double centreU;
    double centreV;
    int u;
    int v = 1;

    /// <summary>Degrees, counterclockwise.</summary>
    public double Angle { get; private set; }

    public bool InForce => Touches(0) || Touches(1) || Touches(2);

    /// <summary>The axis does not simply go where it is told.</summary>
    public bool Touches(int axis) => IsScaled(axis) || Rotates(axis);

    public bool Rotates(int axis) => Angle != 0 && (axis == u || axis == v);

    public bool IsScaled(int axis) => scale[axis] != 1 || !double.IsNaN(mirror[axis]);

    /// <summary>Factor of lengths along the axis, negative where it is mirrored.</summary>
    public double Factor(int axis) => double.IsNaN(mirror[axis]) ? scale[axis] : -scale[axis];

    public void Rotate(int first, int second, double firstCentre, double secondCentre, double degrees) =>
        (u, v, centreU, centreV, Angle) = (first, second, firstCentre, secondCentre, Math.IEEERemainder(degrees, 360));

    public void StopRotating() => Angle = 0;

    public void Scale(int axis, double factor, double centre) => (scale[axis], scaleCentre[axis]) = (factor, centre);

    public void StopScaling() => Array.Fill(scale, 1);

    public void Mirror(int axis, double at) => mirror[axis] = at;

    public void StopMirror(int axis) => mirror[axis] = double.NaN;

    public void Apply(Span<double> place)
    {
        for (var axis = 0; axis < 3; axis++)
        {
            if (!double.IsNaN(mirror[axis]))
                place[axis] = 2 * mirror[axis] - place[axis];
            place[axis] = scaleCentre[axis] + (place[axis] - scaleCentre[axis]) * scale[axis];
        }
        Rotate(place, Angle, centreU, centreV);
    }

    public void Undo(Span<double> place)
    {
        Rotate(place, -Angle, centreU, centreV);
        for (var axis = 0; axis < 3; axis++)
        {
            place[axis] = scaleCentre[axis] + (place[axis] - scaleCentre[axis]) / scale[axis];
            if (!double.IsNaN(mirror[axis]))
                place[axis] = 2 * mirror[axis] - place[axis];
        }
    }

    /// <summary>A way from one place to another: no centre counts.</summary>
    public void ApplyToWay(Span<double> way)
    {
        for (var axis = 0; axis < 3; axis++)
            way[axis] *= Factor(axis);
        Rotate(way, Angle, 0, 0);
    }

    void Rotate(Span<double> place, double degrees, double aroundU, double aroundV)
    {
        if (degrees == 0)
            return;
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        var (first, second) = (place[u] - aroundU, place[v] - aroundV);
        place[u] = aroundU + first * cos - second * sin;
        place[v] = aroundV + first * sin + second * cos;
    }
}
