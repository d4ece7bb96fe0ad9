namespace Handwheel.Jobs.Checking;

/// <summary>One feed move of a chain. Lengths in nm, speeds in nm/s, accelerations in nm/s²; tangents are unit vectors.</summary>
readonly record struct FeedMove(double Length, double Speed, double Acceleration, Tangent Start, Tangent End);

/// <summary>A straight feed move: how far in each axis, nm, and the speed of the feed, nm/s.</summary>
readonly record struct LineMove(double X, double Y, double Z, double Speed)
{
    /// <summary>Spreads the distances of a program, which have few digits, over a small table.</summary>
    public override int GetHashCode() => (int)(((long)(X + 3 * Y + 7 * Z + Speed) * 0x9E37_79B9L) >> 32);
}

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

    const int KeptAlone = 64;

    readonly Alone[] alone = new Alone[KeptAlone];
    readonly HeldMoves held = new(cornerTolerance, rapid, acceleration);

    /// <summary>Adds a straight move at the feed's <paramref name="speed"/>; gives the seconds of the moves that it settled.</summary>
    public double AddLine(double dx, double dy, double dz, double speed)
    {
        var seconds = held.Count == held.Capacity ? Settle() : 0;
        held.AddLine(dx, dy, dz, speed);
        return seconds;
    }

    /// <summary>
    /// Adds straight moves between places (nm) as far as there is room, and counts them; moves of no length are nothing. Gives the seconds of the moves that were settled to make room.
    /// </summary>
    public double AddLines(ReadOnlySpan<long> x, ReadOnlySpan<long> y, ReadOnlySpan<long> z, double speed, ref int done)
    {
        var from = 0;
        while (from < x.Length - 1 && x[from] == x[from + 1] && y[from] == y[from + 1] && z[from] == z[from + 1])
            from++;
        done += from;
        if (from == x.Length - 1)
            return 0;
        var seconds = held.Count == held.Capacity ? Settle() : 0;
        done += held.AddLines(x[from..], y[from..], z[from..], speed);
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
        if (held.AreNewLines && held.Count <= 2)
            return StopAlone();
        Backward();
        var seconds = held.Time(held.Count);
        held.Forget(held.Count);
        return seconds;
    }

    public bool IsAtRest => held.Count == 0 && held.Picometres == 0;

    /// <summary>The moves that are held, where all are straight ones that came since the last stop, and few.</summary>
    public bool TryLines(List<LineMove> lines)
    {
        lines.Clear();
        if (!IsAtRest && !(held is { AreNewLines: true, Count: <= 2, Picometres: 0 }))
            return false;
        for (var i = 0; i < held.Count; i++)
            lines.Add(held.Line(i));
        return true;
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

    /// <summary>
    /// One or two straight moves from rest to rest. Holes of a cycle, peck after peck, taps in and out repeat the same few, so their times are kept.
    /// </summary>
    double StopAlone()
    {
        var first = held.Line(0);
        var second = held.Count > 1 ? held.Line(1) : default;
        ref var kept = ref alone[(uint)(first.GetHashCode() + 31 * second.GetHashCode()) % KeptAlone];
        if (kept.First != first || kept.Second != second)
        {
            var before = held.Picometres;
            held.Picometres = 0;
            Backward();
            kept = new(first, second, held.Time(held.Count), held.Picometres);
            held.Picometres = before;
        }
        held.Picometres += kept.Picometres;
        held.Forget(held.Count);
        return kept.Seconds;
    }

    /// <param name="Second">No move at all where there is one only: no line in a chain is without length.</param>
    readonly record struct Alone(LineMove First, LineMove Second, double Seconds, long Picometres);
}

/// <summary>One axis going from rest to rest: trapezoid of speed, or triangle when the rate is not reached. nm, nm/s, nm/s².</summary>
readonly struct RestToRest(double speed, double acceleration)
{
    readonly double gettingThere = double.IsPositiveInfinity(acceleration) ? 0 : speed * speed / acceleration;
    readonly double more = double.IsPositiveInfinity(acceleration) ? 0 : speed / acceleration;

    public double Seconds(double length)
    {
        if (length == 0)
            return 0;
        length = Math.Abs(length);
        return length >= gettingThere ? length / speed + more : 2 * Math.Sqrt(length / acceleration);
    }
}
