using System.Globalization;
using System.Text;

namespace Handwheel.Web.Features.Programs;

/// <summary>
/// The lines of a program for reading on a screen. Whatever a screen would hide or turn round (control characters,
/// direction marks, no-width characters) is written out, so that what is read is what the control reads.
/// </summary>
public static class VisibleText
{
    /// <summary>Lines as the check counts them; bytes that are no text are shown as <c>⟨9F⟩</c>.</summary>
    public static IReadOnlyList<string> Lines(ReadOnlySpan<byte> program)
    {
        var lines = Decode(program).Split('\n');
        if (lines is [.., ""])
            lines = lines[..^1];
        return [.. lines.Select(line => Visible(line.EndsWith('\r') ? line[..^1] : line))];
    }

    static string Decode(ReadOnlySpan<byte> program)
    {
        var text = new StringBuilder(program.Length);
        while (!program.IsEmpty)
        {
            var status = Rune.DecodeFromUtf8(program, out var rune, out var read);
            if (status == System.Buffers.OperationStatus.Done)
                text.Append(rune.ToString());
            else
                foreach (var odd in program[..read])
                    text.Append(CultureInfo.InvariantCulture, $"⟨{odd:X2}⟩");
            program = program[read..];
        }
        return text.ToString();
    }

    static string Visible(string line)
    {
        if (!line.EnumerateRunes().Any(Hidden))
            return line;
        var text = new StringBuilder(line.Length);
        foreach (var rune in line.EnumerateRunes())
            if (Hidden(rune))
                text.Append(CultureInfo.InvariantCulture, $"⟨U+{rune.Value:X4}⟩");
            else
                text.Append(rune.ToString());
        return text.ToString();
    }

    static bool Hidden(Rune rune) =>
        rune.Value != '\t'
        && Rune.GetUnicodeCategory(rune)
            is UnicodeCategory.Control
                or UnicodeCategory.Format
                or UnicodeCategory.LineSeparator
                or UnicodeCategory.ParagraphSeparator
                or UnicodeCategory.PrivateUse
                or UnicodeCategory.OtherNotAssigned;
}
