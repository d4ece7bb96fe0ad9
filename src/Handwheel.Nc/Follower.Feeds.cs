using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Handwheel.Nc;

// Straight feed moves that follow each other, read many at a time. All marks of a block are found at once, so that its numbers need
// not wait for each other; a block that is not of this kind ends the run and is left to the plain way.
unsafe partial class Follower<TSink>
{
    /// <summary>Moves told one by one before the rest of a run is offered again.</summary>
    const int ToldAlone = 16;

    readonly FeedRun run = new();

    /// <summary>The next block may begin a run: the one before was a straight feed move, and nothing is in force that makes moves depend on more than their words.</summary>
    bool MayRun =>
        state.Motion == Motion.Feed
        && state is { Incremental: false, Lifted: true, Compensation: CutterCompensation.Off }
        && (state.RestX | state.RestY | state.RestZ) == 0
        && state.At.IsMachine;

    /// <summary>Reads a run from <paramref name="p"/> on and tells it; gives where the next block begins, and counts the lines.</summary>
    byte* FollowRun(byte* first, byte* p, byte* limit, long* scales, ref int count)
    {
        // Eight characters that end with a number are read at once; they must be in the text.
        if (p - first < sizeof(ulong))
            return p;
        run.Done = 0;
        run.FirstLine = count;
        var most = (int)Math.Min(FeedRun.Most, nextCheck - state.BlocksExecuted);
        p = ReadRun(first, p, limit, scales, most);
        count += run.Count;
        TellRun();
        return p;
    }

    byte* ReadRun(byte* first, byte* p, byte* limit, long* scales, int most)
    {
        var n = 0;
        var (x, y, z) = (state.At.X, state.At.Y, state.At.Z);
        (run.X[0], run.Y[0], run.Z[0]) = (x, y, z);
        fixed (long* xs = run.X)
        fixed (long* ys = run.Y)
        fixed (long* zs = run.Z)
        fixed (int* starts = run.Starts)
        fixed (int* lengths = run.Lengths)
        fixed (byte* given = run.Given)
        {
            while (n < most && p < limit)
            {
                var block = new RunBlock(p);
                var axes = 0u;
                if (block.Is('X') && block.Read(scales, out var value))
                {
                    axes = 1;
                    x = value + baseX;
                }
                if (block.Is('Y') && block.Read(scales, out value))
                {
                    axes |= 2;
                    y = value + baseY;
                }
                if (block.Is('Z') && block.Read(scales, out value))
                {
                    axes |= 4;
                    z = value + baseZ;
                }
                if (axes == 0 || !block.Ends(out var next))
                    break;
                given[n] = (byte)axes;
                starts[n] = (int)(p - first);
                lengths[n] = block.Length;
                n++;
                xs[n] = x;
                ys[n] = y;
                zs[n] = z;
                p = next;
            }
        }
        run.Count = n;
        return p;
    }

    void TellRun()
    {
        while (run.Left > 0)
        {
            if (options.Feeds is { } take && take(in state, run) is > 0 and var taken)
                PassBy(taken);
            else
                TellAlone(Math.Min(run.Done + ToldAlone, run.Count));
        }
    }

    /// <summary>The control stands where the moves that were taken have led to.</summary>
    void PassBy(int taken)
    {
        run.Done += taken;
        run.SetBlock(ref state, run.Done - 1);
        (state.At.X, state.At.Y, state.At.Z) = (run.X[run.Done], run.Y[run.Done], run.Z[run.Done]);
        state.BlocksExecuted += taken;
    }

    void TellAlone(int end)
    {
        for (var i = run.Done; i < end; i++)
        {
            run.SetBlock(ref state, i);
            ref var going = ref plainLeg;
            going.Kind = LegKind.Feed;
            going.Commanded = (Axes)run.Given[i];
            going.FromLifted = going.Lifted = true;
            (going.From.X, going.From.Y, going.From.Z) = (run.X[i], run.Y[i], run.Z[i]);
            (going.To.X, going.To.Y, going.To.Z) = (run.X[i + 1], run.Y[i + 1], run.Z[i + 1]);
            Sink.Line(in state, in going);
            (state.At.X, state.At.Y, state.At.Z) = (going.To.X, going.To.Y, going.To.Z);
            state.BlocksExecuted++;
            Sink.BlockEnd(in state);
        }
        run.Done = end;
    }
}

/// <summary>A block that may be a move of a run, while it is read from left to right.</summary>
unsafe ref struct RunBlock
{
    const ulong Zeros = 0x3030_3030_3030_3030;
    const ulong HighBits = 0x8080_8080_8080_8080;
    const ulong ToHighBit = 0x7676_7676_7676_7676;
    const ulong Point = '.' ^ '0';

    readonly byte* start;

    /// <summary>A bit for each of the next characters that is part of no number.</summary>
    uint marks;
    int at;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public RunBlock(byte* start)
    {
        this.start = start;
        var text = Vector256.Load(start);
        var numbers = Vector256.LessThanOrEqual(
            text - Vector256.Create((byte)'+'),
            Vector256.Create((byte)('9' - '+'))
        );
        marks = ~numbers.ExtractMostSignificantBits();
    }

    /// <summary>Characters that were read.</summary>
    public readonly int Length => at;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly bool Is(char letter) => start[at] == letter;

    /// <summary>
    /// Reads a length with a point, at most eight characters without its sign, and one blank behind it. False where it is spelled otherwise; then the
    /// block does not end either.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool Read(long* scales, out long nanometres)
    {
        marks &= marks - 1;
        var end = BitOperations.TrailingZeroCount(marks);
        var minus = start[at + 1] == '-' ? 1 : 0;
        var count = end - at - 1 - minus;
        if ((uint)(count - 2) > 6)
        {
            nanometres = 0;
            return false;
        }
        // The number stands at the high end of eight characters; what stands before it becomes zeros.
        var digits = (*(ulong*)(start + end - sizeof(ulong)) ^ Zeros) & (ulong.MaxValue << ((8 - count) * 8));
        var point = ((digits + ToHighBit) & HighBits) >> 7;
        digits ^= point * Point;
        var before = digits & (point - 1);
        var decimals = BitOperations.LeadingZeroCount(point) >> 3;
        var value = (long)PlainNumber.EightDigits(digits + (before << 8) - before) * scales[decimals];
        nanometres = (value ^ -minus) + minus;
        if (
            point == 0
            | (point & (point - 1)) != 0
            | ((digits + ToHighBit) & HighBits) != 0
            | scales[decimals] == 0
            | (ulong)Math.Abs(value) >= NcNumber.LengthMost
        )
            return false;
        at = end;
        if (start[at] == ' ')
        {
            at++;
            marks &= marks - 1;
        }
        return true;
    }

    /// <summary>True at the end of the line; the next one begins at <paramref name="next"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly bool Ends(out byte* next)
    {
        next = start + at + 1;
        if (start[at] == '\n')
            return true;
        next++;
        return start[at] == '\r' && start[at + 1] == '\n';
    }
}
