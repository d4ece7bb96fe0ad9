using System.Numerics;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// The box around a run of feed moves, machine coordinates, nm: around all of them with their start (<see cref="Low"/>, <see cref="High"/>),
/// and axis by axis around the places that blocks command.
/// </summary>
readonly struct RunBox
{
    public readonly Place Low,
        High;
    public readonly long LowX,
        HighX,
        LowY,
        HighY,
        LowZ,
        HighZ;
    public readonly bool CommandsX,
        CommandsY,
        CommandsZ;
    readonly int firstZ;

    public RunBox(FeedRun run)
    {
        (CommandsX, LowX, HighX, Low.X, High.X) = Along(run, 0, out _);
        (CommandsY, LowY, HighY, Low.Y, High.Y) = Along(run, 1, out _);
        (CommandsZ, LowZ, HighZ, Low.Z, High.Z) = Along(run, 2, out firstZ);
    }

    static (bool Commands, long Low, long High, long LowAll, long HighAll) Along(FeedRun run, int axis, out int first)
    {
        var places = run.Places(axis);
        first = run.FirstCommanded(axis);
        if (first >= places.Length)
            return (false, 0, 0, places[0], places[0]);
        var (low, high) = Range(places[first..]);
        // Before the first command an axis stands where it stood.
        return (true, low, high, Math.Min(low, places[0]), Math.Max(high, places[0]));
    }

    static (long Low, long High) Range(ReadOnlySpan<long> places)
    {
        var (low, high) = (places[0], places[0]);
        var i = 0;
        if (places.Length >= Vector<long>.Count)
        {
            var lows = new Vector<long>(places);
            var highs = lows;
            for (i = Vector<long>.Count; i <= places.Length - Vector<long>.Count; i += Vector<long>.Count)
            {
                var next = new Vector<long>(places[i..]);
                lows = Vector.Min(lows, next);
                highs = Vector.Max(highs, next);
            }
            for (var j = 0; j < Vector<long>.Count; j++)
                (low, high) = (Math.Min(low, lows[j]), Math.Max(high, highs[j]));
        }
        for (; i < places.Length; i++)
            (low, high) = (Math.Min(low, places[i]), Math.Max(high, places[i]));
        return (low, high);
    }

    /// <summary>The first place of the run at which a block commands this Z.</summary>
    public int FirstAtZ(FeedRun run, long z) => firstZ + run.Places(2)[firstZ..].IndexOf(z);
}
