using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Handwheel.Nc;

// The way of most blocks of most programs: N, G0 to G3, X Y Z, I J K R and F in their plain spelling, from bytes to the sink without
// a detour. A block with anything else in it is left where it begins, for the general way.
partial class Follower<TSink>
{
    /// <summary>A word is at most this long here, so that one check for each word keeps the reading inside the text.</summary>
    const int Margin = 40;
    const int DigitsMost = 10;

    /// <summary>nm of the last digit, by decimals, where that is a whole number; else 0.</summary>
    readonly long[] plainScale = new long[Margin];

    void UsePlainScale()
    {
        Array.Clear(plainScale);
        for (var decimals = 0; decimals <= state.Units.ExactDecimals(); decimals++)
            plainScale[decimals] = unit / NcNumber.PowersOfTen[decimals];
    }

    void FollowPlain()
    {
        if (state.FeedMode == FeedMode.InverseTime || effort > options.BlocksMost)
            return;
        ref var first = ref MemoryMarshal.GetReference(text.Span);
        var limit = text.Length - Margin;
        PlainBlock block = default;
        while (pos < limit && state.BlocksExecuted < nextCheck)
        {
            block.Pos = pos;
            block.Words = default;
            block.Motion = Motion.None;
            block.Whole = block.HasWord = false;
            if (!TryReadPlain(ref first, limit, ref block) || !CanExecute(block))
                return;
            ExecutePlain(block);
        }
    }

    struct PlainBlock
    {
        public AxisWords Words;
        public double Feed;
        public int Pos;
        public int End;
        public Motion Motion;
        public bool Whole;
        public bool HasWord;
    }

    bool CanExecute(in PlainBlock block)
    {
        var motion = block.Motion == Motion.None ? state.Motion : block.Motion;
        var moves = block.Words.Given & ~AxisWords.FBit;
        return motion is Motion.Rapid or Motion.Feed ? (moves & ~AxisWords.XYZ) == 0
            : motion is Motion.ArcClockwise or Motion.ArcCounterclockwise ? true
            : moves == 0;
    }

    void ExecutePlain(in PlainBlock block)
    {
        state.Line = line++;
        state.BlockStart = pos;
        state.BlockLength = block.End - pos;
        pos = block.Pos;
        if (!block.HasWord)
            return;
        begun = true;
        if (block.Motion != Motion.None)
        {
            if (state.IsCycle)
                hole = default;
            state.Motion = basicMotion = block.Motion;
        }
        changes = block.Whole ? Changes.WholeNumber : Changes.None;
        if ((block.Words.Given & AxisWords.FBit) != 0)
            UseFeed(block.Feed);
        if (changes != Changes.None)
            TellChanges();
        if (state.Motion is Motion.Rapid or Motion.Feed)
            GoStraight(block.Words);
        else if (state.Motion is Motion.ArcClockwise or Motion.ArcCounterclockwise)
            GoAround(block.Words);
        state.BlocksExecuted++;
        Sink.BlockEnd(in state);
    }

    bool TryReadPlain(ref byte first, int limit, ref PlainBlock block)
    {
        while (block.Pos < limit)
        {
            ref var at = ref Unsafe.Add(ref first, block.Pos);
            switch (at)
            {
                case (byte)' ':
                    block.Pos++;
                    continue;
                case (byte)'\n':
                    block.End = block.Pos++;
                    return true;
                case (byte)'\r' when Unsafe.Add(ref at, 1) == '\n':
                    block.End = block.Pos;
                    block.Pos += 2;
                    return true;
                case (byte)'N':
                    if (!TrySkipNumber(ref first, limit, ref block.Pos))
                        return false;
                    continue;
                case (byte)'G':
                    if (!TryReadMotion(ref at, ref block))
                        return false;
                    continue;
                case (byte)'X':
                    if (!TryReadLength(ref first, 1, ref block, out block.Words.X))
                        return false;
                    continue;
                case (byte)'Y':
                    if (!TryReadLength(ref first, 2, ref block, out block.Words.Y))
                        return false;
                    continue;
                case (byte)'Z':
                    if (!TryReadLength(ref first, 4, ref block, out block.Words.Z))
                        return false;
                    continue;
                case (byte)'I':
                    if (!TryReadLength(ref first, AxisWords.IBit, ref block, out block.Words.I))
                        return false;
                    continue;
                case (byte)'J':
                    if (!TryReadLength(ref first, AxisWords.JBit, ref block, out block.Words.J))
                        return false;
                    continue;
                case (byte)'K':
                    if (!TryReadLength(ref first, AxisWords.KBit, ref block, out block.Words.K))
                        return false;
                    continue;
                case (byte)'R':
                    if (!TryReadLength(ref first, AxisWords.RBit, ref block, out block.Words.R))
                        return false;
                    continue;
                case (byte)'F':
                    if (!TryReadFeed(ref first, ref block))
                        return false;
                    continue;
                default:
                    return false;
            }
        }
        return false;
    }

    static bool TrySkipNumber(ref byte first, int limit, ref int p)
    {
        var digits = 0;
        for (p++; digits < DigitsMost && (uint)(Unsafe.Add(ref first, p) - '0') <= 9; p++)
            digits++;
        return digits is > 0 and < DigitsMost && p < limit && !IsMoreNumber(Unsafe.Add(ref first, p));
    }

    /// <summary>G0 to G3 and G00 to G03, once in a block.</summary>
    static bool TryReadMotion(ref byte at, ref PlainBlock block)
    {
        var length = Unsafe.Add(ref at, 1) == '0' && (uint)(Unsafe.Add(ref at, 2) - '0') <= 9 ? 3 : 2;
        var code = (uint)(Unsafe.Add(ref at, length - 1) - '0');
        if (code > 3 || block.Motion != Motion.None || IsMoreNumber(Unsafe.Add(ref at, length)))
            return false;
        block.Motion = Motion.Rapid + (byte)code;
        block.HasWord = true;
        block.Pos += length;
        return true;
    }

    /// <summary>A character that would make the number before it another one: these numbers are not plain.</summary>
    static bool IsMoreNumber(byte c) => (uint)(c - '0') <= 9 || c is (byte)'.' or (byte)'\t' or 0;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    bool TryReadLength(ref byte first, uint bit, ref PlainBlock block, out long value)
    {
        block.HasWord = true;
        if (!TryReadDigits(ref first, ref block.Pos, out value, out var decimals, out var hasPoint))
            return false;
        if ((block.Words.Given & bit) != 0)
            return false;
        block.Words.Given |= bit;
        if (!hasPoint)
        {
            block.Whole |= value != 0;
            value *= wholeUnit != 0 ? wholeUnit : unit;
            return Math.Abs(value) < NcNumber.LengthMost;
        }
        var scale = plainScale[decimals];
        value *= scale;
        return scale != 0 && Math.Abs(value) < NcNumber.LengthMost;
    }

    bool TryReadFeed(ref byte first, ref PlainBlock block)
    {
        block.HasWord = true;
        if (!TryReadDigits(ref first, ref block.Pos, out var value, out var decimals, out _))
            return false;
        if ((block.Words.Given & AxisWords.FBit) != 0)
            return false;
        block.Words.Given |= AxisWords.FBit;
        block.Feed = (double)value / NcNumber.PowersOfTen[decimals] * unit;
        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    static bool TryReadDigits(ref byte first, ref int position, out long value, out int decimals, out bool hasPoint)
    {
        var p = position + 1;
        uint c = Unsafe.Add(ref first, p);
        var negative = c == '-';
        if (negative || c == '+')
            c = Unsafe.Add(ref first, ++p);
        value = 0;
        decimals = 0;
        var start = p;
        while (c - '0' <= 9 && p - start < DigitsMost)
        {
            value = value * 10 + (c - '0');
            c = Unsafe.Add(ref first, ++p);
        }
        hasPoint = c == '.';
        if (hasPoint)
        {
            start++;
            var point = p;
            c = Unsafe.Add(ref first, ++p);
            while (c - '0' <= 9 && p - start < DigitsMost)
            {
                value = value * 10 + (c - '0');
                c = Unsafe.Add(ref first, ++p);
            }
            decimals = p - point - 1;
        }
        if (negative)
            value = -value;
        position = p;
        if (c == ' ')
            c = Unsafe.Add(ref first, p + 1);
        return p > start && c is not ('.' or ' ' or '\t' or 0) && c - '0' > 9;
    }
}
