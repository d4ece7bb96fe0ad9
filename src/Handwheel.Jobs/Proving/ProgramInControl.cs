using System.Security.Cryptography;
using System.Text;

namespace Handwheel.Jobs.Proving;

/// <summary>The first block of a saved program that is not as in the checked one.</summary>
/// <param name="Line">Of the saved file, from 1; 0: it ends before the block that is then <paramref name="Checked"/>.</param>
/// <param name="Checked">Block of the checked file; empty: it has ended.</param>
/// <param name="Saved">Block of the saved file; empty: it has ended.</param>
public sealed record DifferentBlock(int Line, string Checked, string Saved)
{
    /// <summary>Characters of a block that are kept.</summary>
    public const int Longest = 120;

    /// <summary>For people.</summary>
    public string Text =>
        (Checked, Saved) switch
        {
            (_, "") => Said.In($"The saved file ends where the checked one goes on with “{Checked}”."),
            ("", _) => Said.In(
                $"The checked file ends where the saved one goes on, in its line {Line}, with “{Saved}”."
            ),
            _ => Said.In(
                $"The first difference is in line {Line} of the saved file: “{Saved}”; the checked file has “{Checked}” there."
            ),
        };
}

/// <summary>
/// A program that must be in the control, and the block that is asked for to see that it is.
/// </summary>
/// <param name="Sha256">Lower-case hex of the file's bytes.</param>
/// <param name="ComparableSha256">The same without what saving from a control changes: spaces, case, empty lines, the % lines.</param>
/// <param name="Number">The O number it begins with, or empty.</param>
/// <param name="AskedLine">Counts from 1.</param>
/// <param name="AskedBlock">What stands there.</param>
public sealed record ProgramInControl(
    string Name,
    string Sha256,
    string ComparableSha256,
    string Number,
    int AskedLine,
    string AskedBlock
)
{
    /// <summary>Chooses the block to ask for with <paramref name="chance"/>, among blocks that say something.</summary>
    public static ProgramInControl From(string name, ReadOnlySpan<byte> program, Random chance)
    {
        var lines = Encoding.UTF8.GetString(program).Split('\n');
        var worth = Enumerable.Range(0, lines.Length).Where(i => Words(lines[i]) >= 2).ToArray();
        if (worth.Length == 0)
            worth = [.. Enumerable.Range(0, lines.Length).Where(i => Comparable(lines[i]).Length > 0)];
        var asked = worth.Length == 0 ? 0 : worth[chance.Next(worth.Length)];
        var number = lines.Select(l => Comparable(l)).FirstOrDefault(l => l.StartsWith('O'));
        return new(
            name,
            Convert.ToHexStringLower(SHA256.HashData(program)),
            ComparableDigest(program),
            number is null ? "" : NumberOf(number),
            asked + 1,
            lines[asked].Trim()
        );
    }

    /// <summary>Digest of a program as far as saving it from a control leaves it the same.</summary>
    public static string ComparableDigest(ReadOnlySpan<byte> program)
    {
        var text = new StringBuilder();
        foreach (var block in Blocks(program))
            text.Append(block.Comparable).Append('\n');
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }

    /// <summary>Where a saved program is first not this one, apart from what saving changes; null: nowhere.</summary>
    public static DifferentBlock? FirstDifference(ReadOnlySpan<byte> checkedProgram, ReadOnlySpan<byte> saved)
    {
        var (had, has) = (Blocks(checkedProgram), Blocks(saved));
        for (var i = 0; i < Math.Max(had.Count, has.Count); i++)
        {
            var (before, now) = (had.ElementAtOrDefault(i), has.ElementAtOrDefault(i));
            if (before.Comparable != now.Comparable)
                return new(now.Line, Shown(before.Text), Shown(now.Text));
        }
        return null;
    }

    static List<(int Line, string Text, string Comparable)> Blocks(ReadOnlySpan<byte> program) =>
        [
            .. Encoding
                .UTF8.GetString(program)
                .Split('\n')
                .Select((line, i) => (i + 1, line.Trim(), Comparable(line)))
                .Where(l => l.Item3.Length > 0),
        ];

    static string Shown(string? block) =>
        block is null ? ""
        : block.Length > DifferentBlock.Longest ? block[..DifferentBlock.Longest] + "…"
        : block;

    /// <summary>Same block, whatever the spaces and the case.</summary>
    public bool AskedBlockIs(string typed) => Comparable(typed) == Comparable(AskedBlock);

    /// <summary>Same program number, whatever the leading zeros.</summary>
    public bool NumberIs(string typed)
    {
        var text = Comparable(typed).TrimStart('O').TrimStart('0');
        return text == Number.TrimStart('O').TrimStart('0');
    }

    internal static string Comparable(string line)
    {
        var kept = string.Concat(line.Where(c => !char.IsWhiteSpace(c) && c != '\uFEFF')).ToUpperInvariant();
        return kept == "%" ? "" : kept;
    }

    static string NumberOf(string line) => "O" + string.Concat(line.Skip(1).TakeWhile(char.IsAsciiDigit));

    static int Words(string line)
    {
        var comment = line.IndexOf('(', StringComparison.Ordinal);
        var code = comment < 0 ? line : line[..comment];
        return code.Count(char.IsAsciiLetter) - (code.TrimStart().StartsWith('N') ? 1 : 0);
    }
}
