using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>Three axes, nm; null: not known.</summary>
readonly record struct Axis3(long? X, long? Y, long? Z)
{
    /// <summary>In the coordinates of the work offset in force; an axis is known when it rests on what the offset rests on.</summary>
    /// <param name="ownInEffect">A length offset was commanded for the tool in the spindle; else Z is not known.</param>
    public static Axis3 Programmed(in ControlState state, in Place place, bool ownInEffect) =>
        new(
            place.RestX == state.RestX ? state.FromZeroX(place) : null,
            place.RestY == state.RestY ? state.FromZeroY(place) : null,
            ownInEffect && place.RestZ == state.RestZ ? state.FromZeroZ(place) : null
        );

    public static Axis3 Machine(in Place place) =>
        new(place.RestX == 0 ? place.X : null, place.RestY == 0 ? place.Y : null, place.RestZ == 0 ? place.Z : null);

    public static Axis3 operator -(Axis3 to, Axis3 from) => new(to.X - from.X, to.Y - from.Y, to.Z - from.Z);

    /// <summary>With Z raised so many times; nothing is known where the raise is not.</summary>
    public Axis3 Raised(long? raise, int times) => raise is { } nm ? this with { Z = Z + nm * times } : default;

    public AxisValues Out(Figures figures) => new(figures.Out(X), figures.Out(Y), figures.Out(Z));
}
