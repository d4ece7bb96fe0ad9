using System.Numerics;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// The feed moves that a chain holds back, a column for each figure, so that several moves are worked out at once. Every figure is
/// the same as if it were worked out alone. Lengths in nm, speeds in nm/s, accelerations in nm/s².
/// </summary>
sealed class HeldMoves(double cornerTolerance, Rates rapid, Rates acceleration)
{
    const int Columns = 13;
    const double Straight = 1 - 1e-12;
    static readonly int Step = Vector<double>.Count;

    /// <summary>Below this speed no axis can be at its rapid rate, however the move lies.</summary>
    readonly double belowRapid = 0.999 * Math.Min(rapid.X, Math.Min(rapid.Y, rapid.Z));
    readonly double[][] columns = [.. Enumerable.Range(0, Columns).Select(_ => new double[256 + 2 * Step])];
    int linesFrom;
    int joinedTo;
    bool fast;

    public int Count { get; private set; }
    public int Capacity => columns[0].Length - 2 * Step;

    /// <summary>Path length of the lines measured so far, picometres; whoever takes it sets it to 0.</summary>
    public long Picometres { get; set; }

    double[] Lengths => columns[0];
    double[] Speeds => columns[1];
    double[] Accelerations => columns[2];

    // Direction at the start and at the end; of a line that is not measured yet the start holds its distances.
    double[] StartX => columns[3];
    double[] StartY => columns[4];
    double[] StartZ => columns[5];
    double[] EndX => columns[6];
    double[] EndY => columns[7];
    double[] EndZ => columns[8];

    /// <summary>Square of the speed at the start that the joint allows, then what can be reached from before.</summary>
    public double[] StartSquared => columns[9];

    /// <summary>How much the square of the speed can change over the move.</summary>
    public double[] Gains => columns[10];

    /// <summary>Square of the speed at the start, when what follows is known; one more than moves.</summary>
    public double[] Settled => columns[11];

    double[] Seconds => columns[12];

    /// <summary>All are lines that are not measured yet, so that nothing before them counts.</summary>
    public bool AreNewLines => linesFrom == 0;

    /// <summary>One of the lines that are not measured yet.</summary>
    public LineMove Line(int i) => new(StartX[i], StartY[i], StartZ[i], Speeds[i]);

    public void AddLine(double dx, double dy, double dz, double speed)
    {
        var i = Count++;
        StartX[i] = dx;
        StartY[i] = dy;
        StartZ[i] = dz;
        Speeds[i] = speed;
        fast |= speed > belowRapid;
    }

    /// <summary>Adds the moves between places, as many as there is room for, and gives how many places they lead on. Moves of no length are left out.</summary>
    public int AddLines(ReadOnlySpan<long> x, ReadOnlySpan<long> y, ReadOnlySpan<long> z, double speed)
    {
        var most = Math.Min(x.Length - 1, Capacity - Count);
        var startX = StartX.AsSpan(Count);
        var startY = StartY.AsSpan(Count);
        var startZ = StartZ.AsSpan(Count);
        var i = 0;
        for (; i <= most - Step; i += Step)
        {
            var dx = new Vector<long>(x[(i + 1)..]) - new Vector<long>(x[i..]);
            var dy = new Vector<long>(y[(i + 1)..]) - new Vector<long>(y[i..]);
            var dz = new Vector<long>(z[(i + 1)..]) - new Vector<long>(z[i..]);
            if (Vector.EqualsAny(dx | dy | dz, Vector<long>.Zero))
                break;
            Vector.ConvertToDouble(dx).CopyTo(startX[i..]);
            Vector.ConvertToDouble(dy).CopyTo(startY[i..]);
            Vector.ConvertToDouble(dz).CopyTo(startZ[i..]);
        }
        Speeds.AsSpan(Count, i).Fill(speed);
        Count += i;
        fast |= speed > belowRapid;
        for (; i < x.Length - 1 && Count < Capacity; i++)
        {
            var (dx, dy, dz) = (x[i + 1] - x[i], y[i + 1] - y[i], z[i + 1] - z[i]);
            if ((dx | dy | dz) != 0)
                AddLine(dx, dy, dz, speed);
        }
        return i;
    }

    public void Add(in FeedMove move)
    {
        MeasureLines();
        var i = Count++;
        Lengths[i] = move.Length;
        Speeds[i] = move.Speed;
        Accelerations[i] = move.Acceleration;
        (StartX[i], StartY[i], StartZ[i]) = move.Start;
        (EndX[i], EndY[i], EndZ[i]) = move.End;
        linesFrom = Count;
    }

    /// <summary>Length, direction, acceleration and the limit of the axes for the lines added last.</summary>
    public void MeasureLines()
    {
        for (var i = linesFrom; i < Count; i += Step)
        {
            var x = new Vector<double>(StartX, i);
            var y = new Vector<double>(StartY, i);
            var z = new Vector<double>(StartZ, i);
            var length = Vector.SquareRoot(x * x + y * y + z * z);
            length.CopyTo(Lengths, i);
            Least(x, y, z, new(acceleration.X), new(acceleration.Y), new(acceleration.Z)).CopyTo(Accelerations, i);
            if (fast)
            {
                var along = Least(
                    x,
                    y,
                    z,
                    rapid.X * length / Vector.Abs(x),
                    rapid.Y * length / Vector.Abs(y),
                    rapid.Z * length / Vector.Abs(z)
                );
                Vector.Min(new Vector<double>(Speeds, i), along).CopyTo(Speeds, i);
            }
            Direct(x / length, i, StartX, EndX);
            Direct(y / length, i, StartY, EndY);
            Direct(z / length, i, StartZ, EndZ);
        }
        for (var i = linesFrom; i < Count; i++)
            Picometres += PathClock.Picometres(Lengths[i]);
        linesFrom = Count;
        fast = false;
    }

    static void Direct(Vector<double> direction, int i, double[] start, double[] end)
    {
        direction.CopyTo(start, i);
        direction.CopyTo(end, i);
    }

    /// <summary>The least of the figures of those axes that move.</summary>
    static Vector<double> Least(
        Vector<double> x,
        Vector<double> y,
        Vector<double> z,
        Vector<double> ofX,
        Vector<double> ofY,
        Vector<double> ofZ
    )
    {
        var none = new Vector<double>(double.PositiveInfinity);
        ofX = Vector.ConditionalSelect(Vector.Equals(x, Vector<double>.Zero), none, ofX);
        ofY = Vector.ConditionalSelect(Vector.Equals(y, Vector<double>.Zero), none, ofY);
        ofZ = Vector.ConditionalSelect(Vector.Equals(z, Vector<double>.Zero), none, ofZ);
        return Vector.MinNative(ofX, Vector.MinNative(ofY, ofZ));
    }

    /// <summary>
    /// The square of the speed at each new joint: the lower of the two feeds and, through a corner, A·R with R = e·s/(1−s),
    /// s = cos(θ/2), where a tangent arc leaves the corner by e (plane geometry). No limit where the direction does not change.
    /// </summary>
    public void Join()
    {
        MeasureLines();
        for (var i = joinedTo; i < Count; i += Step)
            (2 * new Vector<double>(Accelerations, i) * new Vector<double>(Lengths, i)).CopyTo(Gains, i);
        for (var i = Math.Max(1, joinedTo); i < Count; i += Step)
        {
            var speed = Vector.MinNative(new Vector<double>(Speeds, i - 1), new Vector<double>(Speeds, i));
            var squared = speed * speed;
            if (cornerTolerance >= 0)
                squared = Vector.MinNative(squared, CornerSquared(i));
            squared.CopyTo(StartSquared, i);
        }
        var from = joinedTo;
        joinedTo = Count;
        if (from == 0)
        {
            StartSquared[0] = 0;
            from = 1;
        }
        for (var i = from; i < Count; i++)
            StartSquared[i] = double.MinNative(StartSquared[i], StartSquared[i - 1] + Gains[i - 1]);
    }

    Vector<double> CornerSquared(int i)
    {
        var cosine =
            new Vector<double>(EndX, i - 1) * new Vector<double>(StartX, i)
            + new Vector<double>(EndY, i - 1) * new Vector<double>(StartY, i)
            + new Vector<double>(EndZ, i - 1) * new Vector<double>(StartZ, i);
        var slowest = Vector.MinNative(new Vector<double>(Accelerations, i - 1), new Vector<double>(Accelerations, i));
        return CornerSquared(cornerTolerance, slowest, cosine);
    }

    internal static Vector<double> CornerSquared(double tolerance, Vector<double> acceleration, Vector<double> cosine)
    {
        var one = Vector<double>.One;
        var s = Vector.SquareRoot(Vector.MaxNative(Vector<double>.Zero, (one + cosine) / 2));
        return Vector.ConditionalSelect(
            Vector.GreaterThanOrEqual(cosine, new Vector<double>(Straight)),
            new Vector<double>(double.PositiveInfinity),
            acceleration * tolerance * s / (one - s)
        );
    }

    /// <summary>Seconds of the first moves, each a trapezoid of speed between its settled ends.</summary>
    public double Time(int moves)
    {
        for (var i = 0; i < moves; i += Step)
        {
            var length = new Vector<double>(Lengths, i);
            var speed = new Vector<double>(Speeds, i);
            var a = new Vector<double>(Accelerations, i);
            var start = new Vector<double>(Settled, i);
            var end = new Vector<double>(Settled, i + 1);
            var squared = speed * speed;
            var peakSquared = Vector.MinNative(squared, a * length + (start + end) / 2);
            var peak = Vector.SquareRoot(peakSquared);
            var changing = (peakSquared - start + peakSquared - end) / (2 * a);
            var steady = Vector.MaxNative(Vector<double>.Zero, length - changing) / peak;
            var time = (peak - Vector.SquareRoot(start) + peak - Vector.SquareRoot(end)) / a + steady;
            time = Vector.ConditionalSelect(Vector.GreaterThan(peak, Vector<double>.Zero), time, Vector<double>.Zero);
            var even = Vector.BitwiseAnd(Vector.Equals(start, squared), Vector.Equals(end, squared));
            Vector.ConditionalSelect(even, length / speed, time).CopyTo(Seconds, i);
        }
        var seconds = 0.0;
        for (var i = 0; i < moves; i++)
            seconds += Seconds[i];
        return seconds;
    }

    /// <summary>Forgets the first moves, all of them when <paramref name="moves"/> is the count.</summary>
    public void Forget(int moves)
    {
        Count -= moves;
        if (Count > 0)
        {
            foreach (var column in columns)
                Array.Copy(column, moves, column, 0, Count);
        }
        linesFrom = joinedTo = Count;
    }

    public void Grow()
    {
        var size = Capacity * 2 + 2 * Step;
        for (var i = 0; i < columns.Length; i++)
            Array.Resize(ref columns[i], size);
    }
}
