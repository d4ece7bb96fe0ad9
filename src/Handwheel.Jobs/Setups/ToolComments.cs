using System.Globalization;
using System.Text;

namespace Handwheel.Jobs.Setups;

/// <summary>The words that a program has beside a tool: a comment that begins with its number, or one in the block of its change.</summary>
sealed class ToolComments
{
    const int CharactersMost = 80;

    /// <summary>Comments that begin with a tool number, such as <c>(T1 FACE MILL 2.0 H1)</c>.</summary>
    readonly Dictionary<int, string> byTool = [];
    readonly Dictionary<int, string> byLine = [];

    public ToolComments(byte[] program)
    {
        var line = 0;
        foreach (var text in Encoding.UTF8.GetString(program).ReplaceLineEndings("\n").Split('\n'))
        {
            line++;
            foreach (var comment in In(text))
            {
                if (Numbered(comment) is var (tool, words) && words.Length > 0)
                    byTool.TryAdd(tool, words);
                else if (text.TrimStart() is not ['(' or ';', ..])
                    byLine.TryAdd(line, Cleaned(comment));
            }
        }
    }

    /// <summary>Empty where the program says nothing.</summary>
    public string Of(int tool, int changeLine) =>
        byTool.GetValueOrDefault(tool) ?? byLine.GetValueOrDefault(changeLine) ?? "";

    static IEnumerable<string> In(string text)
    {
        for (var at = 0; at < text.Length; )
        {
            if (text[at] == ';')
            {
                yield return text[(at + 1)..];
                yield break;
            }
            if (text[at] != '(')
            {
                at++;
                continue;
            }
            var end = text.IndexOf(')', at);
            yield return end < 0 ? text[(at + 1)..] : text[(at + 1)..end];
            at = end < 0 ? text.Length : end + 1;
        }
    }

    /// <summary>The tool number at the beginning, and the words after it; null where the comment begins otherwise.</summary>
    static (int Tool, string Words)? Numbered(string comment)
    {
        var text = comment.AsSpan().Trim();
        if (text.StartsWith("TOOL", StringComparison.OrdinalIgnoreCase))
            text = text[4..].TrimStart();
        if (text.StartsWith("T", StringComparison.OrdinalIgnoreCase))
            text = text[1..];
        if (text.Length == comment.AsSpan().Trim().Length)
            return null;
        var end = text.IndexOfAnyExceptInRange('0', '9');
        var digits = end < 0 ? text : text[..end];
        if (digits.Length is 0 or > 8 || (end >= 0 && char.IsLetter(text[end])))
            return null;
        var words = Cleaned(text[digits.Length..].ToString());
        return (int.Parse(digits, NumberStyles.None, CultureInfo.InvariantCulture), words);
    }

    /// <summary>One line without the registers that stand at its end, without separators around it.</summary>
    static string Cleaned(string comment)
    {
        var shown = string.Concat(
            comment.Select(c => char.IsControl(c) || char.GetUnicodeCategory(c) == UnicodeCategory.Format ? ' ' : c)
        );
        var words = shown.Split(' ', StringSplitOptions.RemoveEmptyEntries).ToList();
        while (words.Count > 0 && IsRegister(words[^1]))
            words.RemoveAt(words.Count - 1);
        var text = string.Join(' ', words).Trim(' ', '-', ':', '=', ',', '|', '.');
        return text.Length <= CharactersMost ? text : text[..CharactersMost].TrimEnd();
    }

    static bool IsRegister(string word) =>
        word is ['H' or 'h' or 'D' or 'd', _, ..] && word.AsSpan(1).IndexOfAnyExceptInRange('0', '9') < 0;

    /// <summary>The kinds that the checks know, by the words that programs use for them; the longer name first.</summary>
    static readonly (string Words, string Kind)[] Kinds =
    [
        ("FACE MILL", "face mill"),
        ("FACEMILL", "face mill"),
        ("BALL", "ball end mill"),
        ("BULL", "bull end mill"),
        ("CHAMFER", "chamfer mill"),
        ("THREAD MILL", "thread mill"),
        ("THREADMILL", "thread mill"),
        ("END MILL", "end mill"),
        ("ENDMILL", "end mill"),
        ("SPOT", "spot drill"),
        ("CENTRE DRILL", "centre drill"),
        ("CENTER DRILL", "centre drill"),
        ("COUNTERSINK", "countersink"),
        ("CSINK", "countersink"),
        ("COUNTERBORE", "counterbore"),
        ("CBORE", "counterbore"),
        ("BORING BAR", "boring bar"),
        ("REAM", "reamer"),
        ("TAP ", "tap"),
        ("DRILL", "drill"),
        ("ENGRAV", "engraver"),
        ("PROBE", "probe"),
    ];

    /// <summary>Empty where the words name no kind that the checks know.</summary>
    public static string Kind(string comment)
    {
        var words = comment.ToUpperInvariant() + " ";
        return Array.Find(Kinds, k => words.Contains(k.Words, StringComparison.Ordinal)).Kind ?? "";
    }
}
