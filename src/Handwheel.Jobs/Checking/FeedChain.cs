namespace Handwheel.Jobs.Checking;

/// <summary>One feed move of a chain. Lengths in nm, speeds in nm/s, accelerations in nm/s²; tangents are unit vectors.</summary>
readonly record struct FeedMove(double Length, double Speed, double Acceleration, Tangent Start, Tangent End);

readonly record struct Tangent(double X, double Y, double Z)
{
    public double Dot(in Tangent other) => X * other.X + Y * other.Y + Z * other.Z;
}

/// <summary>
/// The time of feed moves that follow each other without a stop. Speeds at the joints are limited by both feeds and by the
/// corner, then by what can be reached forward and backward. Memory is bounded: as soon as the speed at a joint no longer depends on
/// what may follow, everything before it is settled.
/// </summary>
sealed class FeedChain(double cornerTolerance)
{
    const int WindowAtFirst = 256;

    /// <summary>Moves that are held back at most; a chain that would still depend on more is settled as if it stopped there.</summary>
    const int WindowMost = 1 << 17;
    const double Straight = 1 - 1e-12;

    readonly record struct Held(double Length, double SpeedSquared, double Acceleration, double StartSquared);

    Held[] held = new Held[WindowAtFirst];
    double[] settled = new double[WindowAtFirst + 1];
    int count;
    Tangent lastEnd;
    double lastSpeed;
    double lastAcceleration;

    /// <summary>Adds a move; gives the seconds of the moves that it settled.</summary>
    public double Add(in FeedMove move)
    {
        var seconds = count == held.Length ? Settle() : 0;
        var startSquared = 0.0;
        if (count > 0)
        {
            ref readonly var last = ref held[count - 1];
            startSquared = Math.Min(JointSquared(move), last.StartSquared + 2 * last.Acceleration * last.Length);
        }
        held[count++] = new Held(move.Length, move.Speed * move.Speed, move.Acceleration, startSquared);
        lastEnd = move.End;
        lastSpeed = move.Speed;
        lastAcceleration = move.Acceleration;
        return seconds;
    }

    /// <summary>The chain comes to rest; gives the seconds of all that was held.</summary>
    public double Stop()
    {
        if (count == 0)
            return 0;
        Backward();
        var seconds = Seconds(count);
        count = 0;
        return seconds;
    }

    double JointSquared(in FeedMove move)
    {
        var speed = Math.Min(lastSpeed, move.Speed);
        var limit = speed * speed;
        if (cornerTolerance < 0)
            return limit;
        var acceleration = Math.Min(lastAcceleration, move.Acceleration);
        return Math.Min(limit, CornerSquared(cornerTolerance, acceleration, lastEnd.Dot(move.Start)));
    }

    /// <summary>
    /// The square of the speed through a corner: A·R, R = e·s/(1−s), s = cos(θ/2), where a tangent arc leaves the corner by e (plane
    /// geometry). Infinite where the direction does not change.
    /// </summary>
    internal static double CornerSquared(double tolerance, double acceleration, double cosine)
    {
        if (cosine >= Straight)
            return double.PositiveInfinity;
        var s = Math.Sqrt(Math.Max(0, (1 + cosine) / 2));
        return acceleration * tolerance * s / (1 - s);
    }

    double Settle()
    {
        Backward();
        var safe = 0;
        for (var i = count - 1; i > 0 && safe == 0; i--)
        {
            if (settled[i] >= held[i].StartSquared)
                safe = i;
        }
        if (safe == 0)
        {
            if (held.Length < WindowMost)
            {
                Grow();
                return 0;
            }
            return Stop();
        }
        var seconds = Seconds(safe);
        Array.Copy(held, safe, held, 0, count - safe);
        count -= safe;
        if (count > held.Length / 2 && held.Length < WindowMost)
            Grow();
        return seconds;
    }

    void Grow()
    {
        Array.Resize(ref held, held.Length * 2);
        settled = new double[held.Length + 1];
    }

    void Backward()
    {
        settled[count] = 0;
        for (var i = count - 1; i >= 0; i--)
        {
            var reachable = settled[i + 1] + 2 * held[i].Acceleration * held[i].Length;
            settled[i] = Math.Min(held[i].StartSquared, reachable);
        }
    }

    double Seconds(int moves)
    {
        var seconds = 0.0;
        for (var i = 0; i < moves; i++)
            seconds += Trapezoid(held[i], settled[i], settled[i + 1]);
        return seconds;
    }

    static double Trapezoid(in Held move, double startSquared, double endSquared)
    {
        var speed = Math.Sqrt(move.SpeedSquared);
        if (startSquared == move.SpeedSquared && endSquared == move.SpeedSquared)
            return move.Length / speed;
        var a = move.Acceleration;
        var peakSquared = Math.Min(move.SpeedSquared, a * move.Length + (startSquared + endSquared) / 2);
        var peak = Math.Sqrt(peakSquared);
        if (peak <= 0)
            return 0;
        var changing = (peakSquared - startSquared + peakSquared - endSquared) / (2 * a);
        var steady = Math.Max(0, move.Length - changing) / peak;
        return (peak - Math.Sqrt(startSquared) + peak - Math.Sqrt(endSquared)) / a + steady;
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
