namespace Handwheel.Nc;

/// <summary>The words of a block that a motion uses, nm; 0 where a word is absent.</summary>
struct AxisWords
{
    public const uint XYZ = 7;
    public const uint IBit = 8;
    public const uint JBit = 16;
    public const uint KBit = 32;
    public const uint RBit = 64;
    public const uint FBit = 128;
    public const uint IJK = IBit | JBit | KBit;

    /// <summary>Bits 0 to 2 as in <see cref="Axes"/>, then I J K R F.</summary>
    public uint Given;
    public long X,
        Y,
        Z,
        I,
        J,
        K,
        R;

    public readonly Axes Axes => (Axes)(Given & XYZ);

    public readonly bool Has(int axis) => (Given & (1u << axis)) != 0;

    public readonly long Value(int axis) =>
        axis switch
        {
            PlaceAxis.X => X,
            PlaceAxis.Y => Y,
            _ => Z,
        };

    /// <summary>I for X, J for Y, K for Z.</summary>
    public readonly long Centre(int axis) =>
        axis switch
        {
            PlaceAxis.X => I,
            PlaceAxis.Y => J,
            _ => K,
        };

    public readonly bool HasCentre(int axis) => (Given & (IBit << axis)) != 0;
}
