using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>The box around a hole and the way across to it, machine coordinates, nm.</summary>
readonly struct HoleBox
{
    public readonly Place Low,
        High;

    public HoleBox(in Place from, in Place over, in HoleShape hole)
    {
        (Low.X, High.X) = (Math.Min(from.X, over.X), Math.Max(from.X, over.X));
        (Low.Y, High.Y) = (Math.Min(from.Y, over.Y), Math.Max(from.Y, over.Y));
        (Low.Z, High.Z) = (hole.Bottom, hole.Highest);
    }
}
