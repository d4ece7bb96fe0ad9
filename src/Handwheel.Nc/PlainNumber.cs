using System.Numerics;
using System.Runtime.CompilerServices;

namespace Handwheel.Nc;

/// <summary>Numbers in their plain spelling, read eight characters at a time. Pointers stay inside the text by the margin that the caller keeps.</summary>
static unsafe class PlainNumber
{
    /// <summary>A word is never longer than this here.</summary>
    public const int Margin = 40;

    const int DigitsMost = 10;
    const ulong Zeros = 0x3030_3030_3030_3030;
    const ulong LowBits = 0x7F7F_7F7F_7F7F_7F7F;
    const ulong HighBits = 0x8080_8080_8080_8080;
    const ulong ToHighBit = 0x7676_7676_7676_7676;

    /// <summary>
    /// Reads a length with a point behind the letter at <paramref name="p"/>, at most seven characters without its sign: the usual ones.
    /// Null where it is spelled otherwise; then <see cref="TryReadAny"/> may know it.
    /// </summary>
    /// <param name="scales">nm of the last digit, by decimals.</param>
    /// <param name="decimalsMost">The decimals that have a scale.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static byte* ReadUsual(byte* p, long* scales, int decimalsMost, out long nanometres)
    {
        p++;
        long minus = *p == '-' ? 1 : 0;
        p += minus;
        var digits = *(ulong*)p ^ Zeros;
        // A high bit for every character that is no digit: the point, and what comes after the number.
        var marks = (((digits & LowBits) + ToHighBit) | digits) & HighBits;
        var point = BitOperations.TrailingZeroCount(marks) >> 3;
        var rest = marks & (marks - 1);
        var end = BitOperations.TrailingZeroCount(rest) >> 3;
        var decimals = end - point - 1;
        var isPoint = (byte)(digits >> (point * 8)) == ('.' ^ '0');
        if (rest == 0 | !isPoint | end < 2 | decimals > decimalsMost)
        {
            nanometres = 0;
            return null;
        }
        var before = (1UL << (point * 8)) - 1;
        digits = (digits & before) | ((digits >> 8) & ~before);
        var value = (long)EightDigits(digits << ((9 - end) * 8)) * scales[decimals];
        nanometres = (value ^ -minus) + minus;
        return p + end;
    }

    /// <summary>Any plain number of at most ten digits behind the letter at <paramref name="p"/>; null where it is none.</summary>
    public static byte* TryReadAny(byte* p, out long mantissa, out int decimals, out bool hasPoint)
    {
        p++;
        var negative = *p == '-';
        if (negative || *p == '+')
            p++;
        var digits = 0;
        mantissa = 0;
        decimals = 0;
        for (; *p - '0' is >= 0 and <= 9 && digits < DigitsMost; p++, digits++)
            mantissa = mantissa * 10 + (*p - '0');
        hasPoint = *p == '.';
        if (hasPoint)
        {
            p++;
            for (; *p - '0' is >= 0 and <= 9 && digits < DigitsMost; p++, digits++, decimals++)
                mantissa = mantissa * 10 + (*p - '0');
        }
        if (negative)
            mantissa = -mantissa;
        return digits > 0 ? p : null;
    }

    /// <summary>The number of eight digits, the first in the lowest byte, each 0 to 9 (three multiplications in place of eight).</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ulong EightDigits(ulong digits)
    {
        digits = digits * 10 + (digits >> 8);
        var first = (digits & 0x0000_00FF_0000_00FF) * 0x000F_4240_0000_0064;
        var second = ((digits >> 16) & 0x0000_00FF_0000_00FF) * 0x0000_2710_0000_0001;
        return (first + second) >> 32;
    }
}
