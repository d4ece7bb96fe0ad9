using System.Buffers;
using System.Globalization;
using System.Text;

namespace Handwheel.Nc;

public enum ListedKind : byte
{
    Blank,
    Comment,

    /// <summary>N.</summary>
    BlockNumber,

    /// <summary>O, or a colon.</summary>
    ProgramNumber,

    /// <summary>G and M.</summary>
    Code,

    /// <summary>X Y Z, A B C, U V W, I J K, R, Q.</summary>
    Axis,

    /// <summary>F and S.</summary>
    Cutting,

    /// <summary>T, H and D.</summary>
    Tool,
    OtherWord,

    /// <summary>Percent sign, slash, checksum.</summary>
    Mark,

    /// <summary>Parameters, expressions and the words of the macro language.</summary>
    Macro,

    /// <summary>What makes no sense where it stands.</summary>
    Strange,
    LineEnd,

    /// <summary>The rest of a line that is too long to show; its text says how much that is.</summary>
    Cut,
}

/// <summary>A piece of a line: its bytes, and its text with everything that cannot be seen made visible.</summary>
public readonly record struct ListedPiece(ListedKind Kind, int Start, int Length, string Text);

/// <summary>
/// A program as text for a page, line by line on demand. The pieces of all lines, one after the other, are the file, byte for byte. Signs
/// that cannot be seen, or that turn the writing around, are written as ⟨U+202E⟩; bytes that are no text as ⟨FF⟩.
/// </summary>
public sealed class ProgramListing
{
    /// <summary>So much of a line is shown. No person reads more, and a page must stay a page.</summary>
    const int BytesShownMost = 4000;

    readonly ReadOnlyMemory<byte> program;
    readonly List<int> starts = [];
    readonly CommentEnds comments = new();

    public ProgramListing(ReadOnlyMemory<byte> program)
    {
        this.program = program;
        var text = program.Span;
        for (var pos = 0; pos < text.Length; )
        {
            starts.Add(pos);
            var length = text[pos..].IndexOfAny((byte)'\n', (byte)'\r');
            pos = length < 0 ? text.Length : BlockReader.AfterLineEnd(text, pos + length);
        }
    }

    public int LineCount => starts.Count;

    /// <summary>The bytes of a line, from 1, with its line end.</summary>
    public ReadOnlyMemory<byte> Bytes(int line)
    {
        var start = starts[line - 1];
        var end = line < starts.Count ? starts[line] : program.Length;
        return program[start..end];
    }

    /// <summary>The text of a line without its line end, everything visible.</summary>
    public string Text(int line) => Shown(WithoutEnd(Bytes(line).Span));

    public IReadOnlyList<ListedPiece> Pieces(int line)
    {
        var all = Bytes(line).Span;
        var text = WithoutEnd(all);
        var start = starts[line - 1];
        var pieces = new List<ListedPiece>();
        comments.Clear();
        for (var pos = 0; pos < text.Length; )
        {
            if (pos >= BytesShownMost)
            {
                var more = string.Create(
                    CultureInfo.InvariantCulture,
                    $" … {text.Length - pos} bytes more in this line"
                );
                pieces.Add(new(ListedKind.Cut, start + pos, text.Length - pos, more));
                break;
            }
            var (kind, length) = Next(text, pos, first: line == 1 && pos == 0, comments);
            pieces.Add(new(kind, start + pos, length, Visible(text.Slice(pos, length), kind, BytesShownMost)));
            pos += length;
        }
        if (all.Length > text.Length)
            pieces.Add(new(ListedKind.LineEnd, start + text.Length, all.Length - text.Length, ""));
        return pieces;
    }

    /// <summary>A block, or part of a line, as a page may show it: the same signs made visible as in a listing.</summary>
    /// <param name="bytesMost">Beyond so many bytes it is cut, and ends with an ellipsis.</param>
    public static string Shown(ReadOnlySpan<byte> block, int bytesMost = int.MaxValue)
    {
        var ends = new CommentEnds();
        var text = new StringBuilder();
        for (var pos = 0; pos < block.Length; )
        {
            if (pos >= bytesMost)
                return text.Append('…').ToString();
            var (kind, length) = Next(block, pos, first: pos == 0, ends);
            text.Append(Visible(block.Slice(pos, length), kind, bytesMost - pos));
            pos += length;
        }
        return text.ToString();
    }

    static ReadOnlySpan<byte> WithoutEnd(ReadOnlySpan<byte> line) => line.TrimEnd("\r\n"u8);

    static (ListedKind Kind, int Length) Next(ReadOnlySpan<byte> text, int pos, bool first, CommentEnds comments)
    {
        var rest = text[pos..];
        var c = rest[0];
        if (BlockReader.IsBlank(c))
            return (ListedKind.Blank, rest.Length - BlockReader.TrimBlanks(rest).Length);
        if (BlockReader.Letter(c) is var letter and not '\0')
            return Word(rest, letter);
        return c switch
        {
            (byte)'(' => (
                ListedKind.Comment,
                comments.Length(text, pos, text.Length) is var length and > 0 ? length : rest.Length
            ),
            (byte)';' => (ListedKind.Comment, rest.Length),
            (byte)'%' => (ListedKind.Mark, 1),
            (byte)'/' => (ListedKind.Mark, rest.Length > 1 && rest[1] is >= (byte)'1' and <= (byte)'9' ? 2 : 1),
            (byte)':' => Word(rest, 'O'),
            (byte)'*' when BlockReader.IsChecksum(rest[1..]) => (ListedKind.Mark, rest.Length),
            (byte)'#' or (byte)'[' or (byte)'=' => (ListedKind.Macro, MacroLength(rest)),
            0xEF when first && rest.StartsWith("\uFEFF"u8) => (ListedKind.Mark, 3),
            _ => (ListedKind.Strange, RuneLength(rest)),
        };
    }

    static (ListedKind Kind, int Length) Word(ReadOnlySpan<byte> rest, char letter)
    {
        var length = 1;
        while (length < rest.Length && BlockReader.Letter(rest[length]) != '\0')
            length++;
        if (length > 1)
            return (ListedKind.Macro, length);
        var end = 1;
        for (var i = 1; i < rest.Length; i++)
        {
            if (rest[i] is (byte)'.' or (byte)'-' or (byte)'+' || rest[i] - '0' is >= 0 and <= 9)
                end = i + 1;
            else if (!BlockReader.IsBlank(rest[i]))
                break;
        }
        return (KindOf(letter), end);
    }

    static ListedKind KindOf(char letter) =>
        letter switch
        {
            'N' => ListedKind.BlockNumber,
            'O' => ListedKind.ProgramNumber,
            'G' or 'M' => ListedKind.Code,
            'F' or 'S' => ListedKind.Cutting,
            'T' or 'H' or 'D' => ListedKind.Tool,
            'X' or 'Y' or 'Z' or 'A' or 'B' or 'C' or 'U' or 'V' or 'W' => ListedKind.Axis,
            'I' or 'J' or 'K' or 'R' or 'Q' => ListedKind.Axis,
            _ => ListedKind.OtherWord,
        };

    /// <summary>A parameter, an assignment or an expression: all that is not a word of its own.</summary>
    static int MacroLength(ReadOnlySpan<byte> rest)
    {
        var depth = 0;
        for (var i = 0; i < rest.Length; i++)
        {
            if (rest[i] == '[')
                depth++;
            else if (rest[i] == ']')
                depth--;
            else if (rest[i] is (byte)'(' or (byte)';' || (i > 0 && depth <= 0 && BlockReader.Letter(rest[i]) != '\0'))
                return i;
        }
        return rest.Length;
    }

    static int RuneLength(ReadOnlySpan<byte> rest)
    {
        Rune.DecodeFromUtf8(rest, out _, out var used);
        return Math.Max(1, used);
    }

    static string Visible(ReadOnlySpan<byte> bytes, ListedKind kind, int bytesMost)
    {
        var text = new StringBuilder(Math.Min(bytes.Length, bytesMost) + 1);
        for (var used = 0; !bytes.IsEmpty; bytes = bytes[used..], bytesMost -= used)
        {
            if (bytesMost <= 0)
                return text.Append('…').ToString();
            var done = Rune.DecodeFromUtf8(bytes, out var rune, out used) == OperationStatus.Done;
            used = done ? used : 1;
            if (!done)
                text.Append(CultureInfo.InvariantCulture, $"⟨{bytes[0]:X2}⟩");
            else if (IsHidden(rune) || (kind == ListedKind.Strange && !rune.IsAscii))
                text.Append(CultureInfo.InvariantCulture, $"⟨U+{rune.Value:X4}⟩");
            else
                text.Append(rune.ToString());
        }
        return text.ToString();
    }

    /// <summary>Cannot be seen, changes how others are seen, or looks like a digit that it is not.</summary>
    static bool IsHidden(Rune rune)
    {
        if (rune.Value is >= ' ' and < 0x7F or '\t')
            return false;
        return Rune.GetUnicodeCategory(rune) switch
        {
            UnicodeCategory.Control
            or UnicodeCategory.Format
            or UnicodeCategory.Surrogate
            or UnicodeCategory.PrivateUse => true,
            UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator or UnicodeCategory.SpaceSeparator =>
                true,
            UnicodeCategory.OtherNotAssigned or UnicodeCategory.DecimalDigitNumber => true,
            _ => false,
        };
    }
}
