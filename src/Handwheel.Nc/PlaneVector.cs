namespace Handwheel.Nc;

/// <summary>A place or a way in the XY plane, nm.</summary>
readonly record struct PlaneVector(double X, double Y)
{
    public double Length => Math.Sqrt(X * X + Y * Y);

    /// <summary>A quarter turn counterclockwise.</summary>
    public PlaneVector Left => new(-Y, X);

    public PlaneVector Unit => this * (1 / Length);

    public double Dot(PlaneVector other) => X * other.X + Y * other.Y;

    /// <summary>Positive where <paramref name="other"/> turns to the left of this.</summary>
    public double Cross(PlaneVector other) => X * other.Y - Y * other.X;

    public static PlaneVector operator +(PlaneVector a, PlaneVector b) => new(a.X + b.X, a.Y + b.Y);

    public static PlaneVector operator -(PlaneVector a, PlaneVector b) => new(a.X - b.X, a.Y - b.Y);

    public static PlaneVector operator *(PlaneVector a, double times) => new(a.X * times, a.Y * times);
}
