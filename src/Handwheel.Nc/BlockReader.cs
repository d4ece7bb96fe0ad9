using System.Globalization;
using System.Text;

namespace Handwheel.Nc;

/// <summary>
/// Reads one block in the general way: any spelling, any byte. It loses no character and never throws; what makes no sense
/// is a fault, and the words around it are still read.
/// </summary>
sealed partial class BlockReader
{
    const int DeletedLimit = 9;
    public const int NameLongest = 200;

    /// <summary>What is wrong with a block is said so often and no more.</summary>
    const int FaultsMost = 100;

    readonly CommentEnds commentEnds = new();
    readonly List<Fault> faults = [];
    readonly ExpressionReader expressions;
    bool blockDelete;
    int lineStart;
    int pos;
    int lineEnd;

    public BlockReader(Parameters parameters, Reads reads) => expressions = new(parameters, reads, faults);

    public BlockWords Words { get; } = new();
    public List<Fault> Faults => faults;

    /// <summary>End of the block's text, without its line end.</summary>
    public int End => lineEnd;

    /// <summary>Reads the block that begins at <paramref name="start"/> and says where the next one begins.</summary>
    public int Read(ReadOnlySpan<byte> text, int start, bool deleting)
    {
        Words.Clear();
        faults.Clear();
        commentEnds.Clear();
        assignments.Clear();
        flow = default;
        blockDelete = deleting;
        lineStart = pos = start;
        var length = text[start..].IndexOfAny((byte)'\n', (byte)'\r');
        lineEnd = length < 0 ? text.Length : start + length;
        while (pos < lineEnd)
        {
            ReadNext(text);
            if (faults.Count > FaultsMost)
                faults.RemoveRange(FaultsMost, faults.Count - FaultsMost);
        }
        return AfterLineEnd(text, lineEnd);
    }

    public static int AfterLineEnd(ReadOnlySpan<byte> text, int end)
    {
        if (end >= text.Length)
            return text.Length;
        return text[end] == '\r' && end + 1 < text.Length && text[end + 1] == '\n' ? end + 2 : end + 1;
    }

    int Column => pos - lineStart + 1;

    void ReadNext(ReadOnlySpan<byte> text)
    {
        var c = text[pos];
        if (IsBlank(c))
            pos++;
        else if (Letter(c) is var letter and not '\0')
            ReadWord(text, letter);
        else
            ReadMark(text, c);
    }

    void ReadMark(ReadOnlySpan<byte> text, byte c)
    {
        switch (c)
        {
            case (byte)'(':
                SkipComment(text);
                break;
            case (byte)';':
                pos = lineEnd;
                break;
            case (byte)'/':
                ReadSlash(text);
                break;
            case (byte)'%':
                pos++;
                if (Words.HasWord)
                    Words.PercentLast = true;
                else
                    Words.PercentFirst = true;
                break;
            case (byte)':':
                ReadWord(text, 'O');
                break;
            case (byte)'*' when IsChecksum(text[(pos + 1)..lineEnd]):
                pos = lineEnd;
                break;
            case 0xEF when pos == 0 && text[pos..].StartsWith("\uFEFF"u8):
                pos += 3;
                break;
            case (byte)'<' when Words.Calls:
                Words.Name = ReadName(text);
                break;
            case (byte)'#':
                ReadAssignment(text);
                break;
            default:
                ReadStranger(text);
                break;
        }
    }

    void ReadSlash(ReadOnlySpan<byte> text)
    {
        pos++;
        var next = pos;
        while (next < lineEnd && IsBlank(text[next]))
            next++;
        if (next < lineEnd && text[next] - '1' is >= 0 and < DeletedLimit)
            pos = next + 1;
        if (blockDelete)
            pos = lineEnd;
        Words.Slash = true;
    }

    void SkipComment(ReadOnlySpan<byte> text)
    {
        var length = commentEnds.Length(text, pos, lineEnd);
        if (length == 0)
            Refuse(FaultKind.CannotRead, "comment without end", ") before the end of the line");
        else if (Words.Calls && Words.CommentOfCall.Length == 0)
            Words.CommentOfCall = (pos, length);
        pos = length == 0 ? lineEnd : pos + length;
    }

    void ReadWord(ReadOnlySpan<byte> text, char letter)
    {
        var column = Column;
        var start = pos++;
        SkipBlanks(text);
        if (letter == 'O' && pos < lineEnd && text[pos] == '<')
        {
            ReadName(text);
            Words.Label = true;
            return;
        }
        if (IsComputed(text))
        {
            ReadComputed(text, letter, start);
            return;
        }
        var number = new NcNumber { Column = column };
        if (!ReadNumber(text, ref number))
        {
            // A sign that is none of a program's is said itself, with its code, and not the letter before it.
            if (pos >= lineEnd || text[pos] < 0x80)
                faults.Add(new(FaultKind.CannotRead, Spelled(letter), column, "a number after the letter"));
            return;
        }
        AddWord(letter, number);
    }

    void AddWord(char letter, in NcNumber number)
    {
        if (letter == 'G' || (letter == 'M' && !Words.MacroCall))
        {
            if (TenthsOf(number) is not { } tenths)
                faults.Add(
                    new(FaultKind.CannotRead, Spelled(letter), number.Column, "a code with at most one decimal")
                );
            else if (!Words.AddCode(letter, new(tenths, number.Column)))
                faults.Add(new(FaultKind.CannotRead, "too many codes", number.Column, "at most 32 codes in a block"));
        }
        else if (!Words.Add(letter, number) && letter != 'N' && !(Words.MacroCall && letter is ('I' or 'J' or 'K')))
        {
            faults.Add(
                new(FaultKind.SameGroupTwice, Spelled(letter) + " twice", number.Column, "one such word in a block")
            );
        }
    }

    bool ReadNumber(ReadOnlySpan<byte> text, ref NcNumber number)
    {
        var negative = false;
        if (pos < lineEnd && text[pos] is (byte)'-' or (byte)'+')
        {
            negative = text[pos] == '-';
            pos++;
        }
        var digits = 0;
        for (; pos < lineEnd; pos++)
        {
            var c = text[pos];
            if (c - '0' is >= 0 and <= 9)
            {
                digits++;
                AddDigit(ref number, c - '0');
            }
            else if (c == '.' && !number.HasPoint)
                number.HasPoint = true;
            else if (!IsBlank(c))
                break;
        }
        if (negative)
            number.Mantissa = -number.Mantissa;
        return digits > 0;
    }

    void AddDigit(ref NcNumber number, int digit)
    {
        if (number.HasPoint && number.Decimals >= NcNumber.DigitsMost - 1)
            return;
        if (number.Mantissa >= NcNumber.PowersOfTen[NcNumber.DigitsMost])
        {
            if (!number.HasPoint && faults is not [.., { Cause: "a number too long" }])
                Refuse(FaultKind.CannotRead, "a number too long", "at most 15 digits");
            return;
        }
        number.Mantissa = number.Mantissa * 10 + digit;
        if (number.HasPoint)
            number.Decimals++;
    }

    /// <summary>The name of a program, between &lt; and &gt;.</summary>
    string? ReadName(ReadOnlySpan<byte> text)
    {
        var close = text[pos..lineEnd].IndexOf((byte)'>');
        if (close < 0)
        {
            Refuse(FaultKind.CannotRead, "a name without end", "> before the end of the line");
            pos = lineEnd;
            return null;
        }
        if (close > NameLongest)
            Refuse(FaultKind.CannotRead, "a name too long", "at most 200 letters");
        var name = close > NameLongest ? null : ProgramTexts.NormalName(text.Slice(pos + 1, close - 1));
        pos += close + 1;
        return name;
    }

    void ReadStranger(ReadOnlySpan<byte> text)
    {
        var column = Column;
        if (Rune.DecodeFromUtf8(text[pos..lineEnd], out var rune, out var used) != System.Buffers.OperationStatus.Done)
        {
            var code = text[pos].ToString("X2", CultureInfo.InvariantCulture);
            faults.Add(new(FaultKind.CannotRead, "byte " + code, column, "a letter and a number"));
        }
        else
        {
            var spelled = rune.Value is > ' ' and < 0x7F ? rune.ToString() : LookAlikes.Name(rune);
            faults.Add(new(FaultKind.CannotRead, spelled, column, "a letter and a number"));
        }
        pos += Math.Max(1, used);
    }

    static string Spelled(char letter) => letter.ToString();

    void Refuse(FaultKind kind, string cause, string? expected) => faults.Add(new(kind, cause, Column, expected));

    void SkipBlanks(ReadOnlySpan<byte> text)
    {
        while (pos < lineEnd && IsBlank(text[pos]))
            pos++;
    }

    /// <summary>Digits and nothing else to the end of the line.</summary>
    public static bool IsChecksum(ReadOnlySpan<byte> rest)
    {
        rest = TrimBlanks(rest);
        var digits = rest.IndexOfAnyExceptInRange((byte)'0', (byte)'9');
        return !rest.IsEmpty && digits != 0 && (digits < 0 || TrimBlanks(rest[digits..]).IsEmpty);
    }

    /// <summary>Space, tab, and what tapes and serial lines have as blank, rubout, end mark or switch of a device (DC1 to DC4, STX, ETX).</summary>
    public static bool IsBlank(byte c) =>
        c is (byte)' ' or (byte)'\t' or 0 or 0x7F or 0x1A or 0x02 or 0x03 or (>= 0x11 and <= 0x14);

    public static ReadOnlySpan<byte> TrimBlanks(ReadOnlySpan<byte> rest)
    {
        var i = 0;
        while (i < rest.Length && IsBlank(rest[i]))
            i++;
        return rest[i..];
    }

    public static char Letter(byte c)
    {
        var upper = c & ~0x20;
        return upper is >= 'A' and <= 'Z' ? (char)upper : '\0';
    }

    static int? TenthsOf(in NcNumber number)
    {
        if (number is { Decimals: 0, Computed: false, Mantissa: >= 0 and < 10_000 })
            return (int)number.Mantissa * 10;
        var tenths = number.Value * 10;
        var nearest = Math.Round(tenths);
        var close = Math.Abs(tenths - nearest) <= (number.Computed ? 0.001 : 1e-9);
        return close && nearest is >= 0 and <= 99_999 ? (int)nearest : null;
    }
}
