namespace Handwheel.Jobs.Checking;

/// <summary>One feed move of a chain. Lengths in nm, speeds in nm/s, accelerations in nm/s²; tangents are unit vectors.</summary>
readonly record struct FeedMove(double Length, double Speed, double Acceleration, Tangent Start, Tangent End);

readonly record struct Tangent(double X, double Y, double Z);

/// <summary>
/// The time of feed moves that follow each other without a stop. Speeds at the joints are limited by both feeds and by the
/// corner, then by what can be reached forward and backward. Memory is bounded: as soon as the speed at a joint no longer depends on
/// what may follow, everything before it is settled.
/// </summary>
sealed class FeedChain(double cornerTolerance, Rates rapid, Rates acceleration)
{
    /// <summary>Moves that are held back at most; a chain that would still depend on more is settled as if it stopped there.</summary>
    const int WindowMost = 1 << 17;

    readonly HeldMoves held = new(cornerTolerance, rapid, acceleration);

    /// <summary>Adds a straight move at the feed's <paramref name="speed"/>; gives the seconds of the moves that it settled.</summary>
    public double AddLine(double dx, double dy, double dz, double speed)
    {
        var seconds = held.Count == held.Capacity ? Settle() : 0;
        held.AddLine(dx, dy, dz, speed);
        return seconds;
    }

    /// <summary>Adds a move that is worked out; gives the seconds of the moves that it settled.</summary>
    public double Add(in FeedMove move)
    {
        var seconds = held.Count == held.Capacity ? Settle() : 0;
        held.Add(move);
        return seconds;
    }

    /// <summary>The chain comes to rest; gives the seconds of all that was held.</summary>
    public double Stop()
    {
        if (held.Count == 0)
            return 0;
        Backward();
        var seconds = held.Time(held.Count);
        held.Forget(held.Count);
        return seconds;
    }

    /// <summary>Path length of the straight moves since the last time it was asked, picometres.</summary>
    public long TakePicometres()
    {
        held.MeasureLines();
        var picometres = held.Picometres;
        held.Picometres = 0;
        return picometres;
    }

    double Settle()
    {
        Backward();
        var safe = held.Count - 1;
        while (safe > 0 && held.Settled[safe] < held.StartSquared[safe])
            safe--;
        if (safe == 0)
        {
            if (held.Capacity >= WindowMost)
                return Stop();
            held.Grow();
            return 0;
        }
        var seconds = held.Time(safe);
        held.Forget(safe);
        if (held.Count > held.Capacity / 2 && held.Capacity < WindowMost)
            held.Grow();
        return seconds;
    }

    void Backward()
    {
        held.Join();
        var (settled, start, gains) = (held.Settled, held.StartSquared, held.Gains);
        settled[held.Count] = 0;
        for (var i = held.Count - 1; i >= 0; i--)
            settled[i] = double.MinNative(start[i], settled[i + 1] + gains[i]);
    }

    /// <summary>Seconds over a distance from rest to rest: trapezoid, or triangle when the speed is not reached.</summary>
    public static double RestToRest(double length, double speed, double acceleration)
    {
        if (double.IsPositiveInfinity(acceleration))
            return length / speed;
        return length >= speed * speed / acceleration
            ? length / speed + speed / acceleration
            : 2 * Math.Sqrt(length / acceleration);
    }
}
