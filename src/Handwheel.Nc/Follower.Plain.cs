using System.Runtime.CompilerServices;

namespace Handwheel.Nc;

// The way of most blocks of most programs: N, G0 to G3, X Y Z, I J K R and F in their plain spelling, and the codes of Follower.PlainCodes.cs,
// from bytes to the sink without a detour. A block with anything else in it is left where it begins, for the general way.
unsafe partial class Follower<TSink>
{
    /// <summary>Bytes at the end of a text that are read from a copy.</summary>
    const int TailLength = 1024;

    /// <summary>nm of the last digit, by decimals, where that is a whole number; else 0.</summary>
    readonly long[] plainScales = new long[NcNumber.DigitsMost];
    readonly byte[] tail = new byte[TailLength + sizeof(ulong) + PlainNumber.Margin];
    int tailOf = -1;
    int tailStart;
    int plainDecimals;
    Leg plainLeg;
    PlainWords plainWords;

    /// <summary>The words of a plain block beside X, Y and Z.</summary>
    struct PlainWords
    {
        public AxisWords Axis;
        public double Feed;
        public long Q;
        public int P;
        public Motion Motion;
        public PlainCodes Codes;

        /// <summary>It has a word other than N.</summary>
        public bool HasWord;

        /// <summary>A length without a point, other than 0.</summary>
        public bool Whole;
    }

    void UsePlainScale()
    {
        plainDecimals = state.Units.ExactDecimals();
        Array.Clear(plainScales);
        for (var decimals = 0; decimals <= plainDecimals; decimals++)
            plainScales[decimals] = unit / NcNumber.PowersOfTen[decimals];
    }

    void FollowPlain()
    {
        while (!ended && FollowPlainText()) { }
    }

    /// <summary>Follows plain blocks as far as they go; true: the next one stands in another text, or at the end of this one.</summary>
    bool FollowPlainText()
    {
        if (state.FeedMode == FeedMode.InverseTime || effort > options.BlocksMost || pos >= text.Length)
            return false;
        var inTail = pos >= text.Length - TailLength;
        if (inTail)
            UseTail();
        fixed (byte* buffer = inTail ? (ReadOnlySpan<byte>)tail : text.Span)
        fixed (long* scales = plainScales)
        {
            var first = inTail ? buffer - tailStart : buffer;
            var p = first + pos;
            var limit = first + text.Length - (inTail ? 0 : PlainNumber.Margin);
            var end = first + text.Length - (inTail ? 0 : TailLength);
            var count = line;
            while (p < end && state.BlocksExecuted < nextCheck && effort <= options.BlocksMost)
            {
                var start = p;
                uint given = 0;
                long x = 0;
                long y = 0;
                long z = 0;
                plainWords = default;
                p = ReadBlock(p, limit, scales, ref given, ref x, ref y, ref z);
                if (p == null)
                {
                    p = start;
                    break;
                }
                state.Line = count;
                state.BlockStart = (int)(start - first);
                state.BlockLength = (int)(p - start);
                if (!ExecutePlain(given, x, y, z))
                {
                    p = start;
                    break;
                }
                if (jumped)
                {
                    jumped = false;
                    return true;
                }
                count++;
                p += *p == '\r' ? 2 : 1;
                if (given != 0 && MayRun)
                    p = FollowRun(first, p, limit, scales, ref count);
            }
            pos = (int)(p - first);
            line = count;
            return p >= end && !inTail;
        }
    }

    /// <summary>
    /// The end of a text is read from a copy with room behind it, so that its last blocks need no watching for the end: they may be a
    /// subprogram that is called again and again.
    /// </summary>
    void UseTail()
    {
        if (tailOf == state.File)
            return;
        tailOf = state.File;
        tailStart = Math.Max(0, text.Length - TailLength - sizeof(ulong));
        var end = text.Span[tailStart..];
        end.CopyTo(tail);
        tail.AsSpan(end.Length, PlainNumber.Margin).Clear();
    }

    /// <summary>Reads to the line end and returns it; null where the block is not plain.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    byte* ReadBlock(byte* p, byte* limit, long* scales, ref uint given, ref long x, ref long y, ref long z)
    {
        while (p < limit)
        {
            if (*p == 'X' && (given & 1) == 0)
            {
                given |= 1;
                var next = PlainNumber.ReadUsual(p, scales, plainDecimals, out x);
                p = next != null ? next : ReadUnusual(p, out x);
                if (p == null)
                    return null;
            }
            if (*p == 'Y' && (given & 2) == 0)
            {
                given |= 2;
                var next = PlainNumber.ReadUsual(p, scales, plainDecimals, out y);
                p = next != null ? next : ReadUnusual(p, out y);
                if (p == null)
                    return null;
            }
            if (*p == 'Z' && (given & 4) == 0)
            {
                given |= 4;
                var next = PlainNumber.ReadUsual(p, scales, plainDecimals, out z);
                p = next != null ? next : ReadUnusual(p, out z);
                if (p == null)
                    return null;
            }
            if (*p == '\n')
                return p;
            p = ReadOther(p, limit, scales);
            if (p == null || (*p == '\r' && p[1] == '\n'))
                return p;
        }
        return null;
    }

    /// <summary>A length that is longer, or has no point; null where it is not plain.</summary>
    byte* ReadUnusual(byte* p, out long value)
    {
        p = PlainNumber.TryReadAny(p, out value, out var decimals, out var hasPoint);
        if (p == null || decimals > plainDecimals)
            return null;
        if (!hasPoint)
        {
            plainWords.Whole |= value != 0;
            value *= wholeUnit != 0 ? wholeUnit : unit;
        }
        else
        {
            value *= plainScales[decimals];
        }
        return Math.Abs(value) < NcNumber.LengthMost ? p : null;
    }

    byte* ReadOther(byte* p, byte* limit, long* scales)
    {
        ref var words = ref plainWords;
        switch (*p)
        {
            case (byte)' ':
                return p + 1;
            case (byte)'\r':
                return p[1] == '\n' ? p : null;
            case (byte)'N':
                return ReadWhole(p, out _);
            case (byte)'G':
                return ReadG(p);
            case (byte)'I':
                return ReadLength(p, scales, AxisWords.IBit, out words.Axis.I);
            case (byte)'J':
                return ReadLength(p, scales, AxisWords.JBit, out words.Axis.J);
            case (byte)'K':
                return ReadLength(p, scales, AxisWords.KBit, out words.Axis.K);
            case (byte)'R':
                return ReadLength(p, scales, AxisWords.RBit, out words.Axis.R);
            case (byte)'F':
                return ReadFeed(p);
            case (byte)'M':
                return ReadM(p);
            case (byte)'P':
                return ReadP(p);
            case (byte)'Q':
                return ReadQ(p, scales);
            case (byte)'O':
                return ReadProgramNumber(p);
            case (byte)'(':
                return SkipComment(p, limit);
            default:
                return null;
        }
    }

    byte* ReadLength(byte* p, long* scales, uint bit, out long value)
    {
        var next = PlainNumber.ReadUsual(p, scales, plainDecimals, out value);
        p = next != null ? next : ReadUnusual(p, out value);
        if (p == null || (plainWords.Axis.Given & bit) != 0)
            return null;
        plainWords.Axis.Given |= bit;
        plainWords.HasWord = true;
        return p;
    }

    byte* ReadFeed(byte* p)
    {
        p = PlainNumber.TryReadAny(p, out var value, out var decimals, out _);
        if (p == null || (plainWords.Axis.Given & AxisWords.FBit) != 0)
            return null;
        plainWords.Axis.Given |= AxisWords.FBit;
        plainWords.HasWord = true;
        plainWords.Feed = (double)value / NcNumber.PowersOfTen[decimals] * unit;
        return p;
    }

    /// <summary>False, with nothing done, where these words together are not plain.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    bool ExecutePlain(uint given, long x, long y, long z)
    {
        if (
            plainWords.HasWord
            || plainWords.Whole
            || plainWords.Codes != PlainCodes.None
            || state.Motion is not (Motion.Rapid or Motion.Feed)
        )
            return ExecuteWords(given, x, y, z);
        if (given == 0)
            return true;
        GoPlain(given, x, y, z);
        state.BlocksExecuted++;
        Sink.BlockEnd(in state);
        return true;
    }

    bool ExecuteWords(uint given, long x, long y, long z)
    {
        ref var words = ref plainWords;
        words.Axis.Given |= given;
        (words.Axis.X, words.Axis.Y, words.Axis.Z) = (x, y, z);
        if (words.Codes != PlainCodes.None)
            return ExecuteCodes();
        if (words.Axis.Given == 0 && !words.HasWord)
            return true;
        var motion = words.Motion == Motion.None ? state.Motion : words.Motion;
        var moves = words.Axis.Given & ~AxisWords.FBit;
        var straight = motion is Motion.Rapid or Motion.Feed;
        var arc = motion is Motion.ArcClockwise or Motion.ArcCounterclockwise;
        var drills = moves != 0 && !straight && !arc;
        if (straight ? (moves & ~AxisWords.XYZ) != 0 : drills && !IsPlainHole(moves))
            return false;
        begun = true;
        if (words.Motion != Motion.None)
            UseMotion(words.Motion);
        changes = words.Whole ? Changes.WholeNumber : Changes.None;
        if ((words.Axis.Given & AxisWords.FBit) != 0)
            UseFeed(words.Feed);
        TellChanges();
        if (straight && moves != 0)
            GoPlain(given, x, y, z);
        else if (arc)
            GoAround(words.Axis);
        else if (drills)
            DrillPlainHole(words.Axis);
        state.BlocksExecuted++;
        Sink.BlockEnd(in state);
        return true;
    }

    /// <summary>A straight move. Where the axes rest on what they rested on before, only the numbers change.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    void GoPlain(uint given, long x, long y, long z)
    {
        if (state.Incremental || !RestsStay())
        {
            GoStraight(
                new AxisWords
                {
                    Given = given,
                    X = x,
                    Y = y,
                    Z = z,
                }
            );
            return;
        }
        begun = true;
        ref var going = ref plainLeg;
        going.Kind = state.Motion == Motion.Rapid ? LegKind.Rapid : LegKind.Feed;
        going.Commanded = (Axes)given;
        going.From.X = state.At.X;
        going.From.Y = state.At.Y;
        going.From.Z = state.At.Z;
        going.To.X = (given & 1) != 0 ? x + baseX : going.From.X;
        going.To.Y = (given & 2) != 0 ? y + baseY : going.From.Y;
        going.To.Z = (given & 4) != 0 ? z + baseZ : going.From.Z;
        going.FromLifted = state.Lifted;
        going.Lifted = state.Lifted | (given & 4) != 0;
        Sink.Line(in state, in going);
        state.At.X = going.To.X;
        state.At.Y = going.To.Y;
        state.At.Z = going.To.Z;
        state.Lifted = going.Lifted;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    bool RestsStay()
    {
        if (
            state.At.RestX != state.RestX
            || state.At.RestY != state.RestY
            || state.At.RestZ != state.RestZ
            || plainLeg.To.RestX != state.RestX
            || plainLeg.To.RestY != state.RestY
            || plainLeg.To.RestZ != state.RestZ
        )
            return RestsMeet();
        return true;
    }

    bool RestsMeet()
    {
        var meet = state.At.RestX == state.RestX && state.At.RestY == state.RestY && state.At.RestZ == state.RestZ;
        if (meet)
            plainLeg.From = plainLeg.To = state.At;
        return meet;
    }
}
