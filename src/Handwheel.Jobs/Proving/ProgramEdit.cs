using System.Globalization;
using System.Text;

namespace Handwheel.Jobs.Proving;

/// <summary>Puts an edit that was made at the machine into the program's text, so that the program as proven is known byte for byte.</summary>
public static class ProgramEdit
{
    /// <summary>The program as edited, or null with the reason: the block named does not stand in that line.</summary>
    /// <param name="line">From 1.</param>
    /// <param name="old">The block as it was, whatever the blanks and the case, with or without its N number; empty: a line was put in before this one.</param>
    /// <param name="now">The block as it is; empty: the line was taken out. Without an N number the old one stays.</param>
    public static byte[]? Apply(ReadOnlySpan<byte> program, int line, string old, string now, out string? refusal)
    {
        var lines = Lines(program);
        var wanted = ProgramInControl.Comparable(old);
        var putIn = string.IsNullOrWhiteSpace(old);
        if (line < 1 || line > lines.Count + (putIn ? 1 : 0))
        {
            refusal = Said.In($"The program has {lines.Count} lines: line {line} is not one of them.");
            return null;
        }
        if (!putIn && (wanted.Length == 0 || !Stands(lines[line - 1], wanted)))
        {
            refusal = NotThere(lines, line, wanted);
            return null;
        }
        refusal = null;
        return Written(program, lines, line, putIn ? "" : lines[line - 1], now.Trim());
    }

    static byte[] Written(ReadOnlySpan<byte> program, List<string> lines, int line, string before, string now)
    {
        var end = program.IndexOf("\r\n"u8) >= 0 ? "\r\n" : "\n";
        var endsWithLine = program.Length > 0 && program[^1] == (byte)'\n';
        if (before.Length > 0)
            lines.RemoveAt(line - 1);
        if (now.Length > 0)
            lines.Insert(line - 1, Numbered(before, now));
        return Encoding.Latin1.GetBytes(string.Join(end, lines) + (endsWithLine ? end : ""));
    }

    /// <summary>The block with the N number that it had, where it was typed without one.</summary>
    static string Numbered(string before, string now)
    {
        // The file is carried as one character a byte, so that what is not edited keeps its bytes whatever its encoding.
        var bytes = Encoding.Latin1.GetString(Encoding.UTF8.GetBytes(now));
        var number = Number(before.TrimStart());
        return number.Length == 0 || Number(bytes).Length > 0 ? bytes : number + " " + bytes;
    }

    static string NotThere(List<string> lines, int line, string wanted)
    {
        var places = Enumerable.Range(1, lines.Count).Where(n => Stands(lines[n - 1], wanted)).Take(2).ToList();
        var where = places switch
        {
            [var one] => Said.In($" It stands in line {one}."),
            [_, _] => Said.In(" It stands in more than one line."),
            _ => Said.In(" It stands nowhere in it."),
        };
        return Said.In($"Line {line} of the program that was checked is not the block that you typed as it was.")
            + where
            + Said.In(" Look at the line again, or save the program from the control and send the file.");
    }

    /// <summary>The same block, where both have an N number with the same one.</summary>
    static bool Stands(string line, string wanted)
    {
        var there = ProgramInControl.Comparable(line);
        if (Number(there).Length > 0 && Number(wanted).Length > 0)
            return there == wanted;
        return WithoutNumber(there) == WithoutNumber(wanted);
    }

    static string WithoutNumber(string comparable) => comparable[Number(comparable).Length..];

    static string Number(string text) =>
        text is ['N' or 'n', ..] ? "N" + string.Concat(text.Skip(1).TakeWhile(char.IsAsciiDigit)) : "";

    static List<string> Lines(ReadOnlySpan<byte> program)
    {
        var lines = Encoding.Latin1.GetString(program).Split('\n').Select(l => l.TrimEnd('\r')).ToList();
        if (lines is [.., ""])
            lines.RemoveAt(lines.Count - 1);
        return lines;
    }
}
