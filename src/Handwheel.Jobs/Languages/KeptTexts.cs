using System.Text.RegularExpressions;

namespace Handwheel.Jobs.Languages;

/// <summary>
/// Finds the translation of a whole English sentence that was kept without its key: a plan of any age holds nothing else. The sentence is
/// compared with every key, and the words that stand where a key has its values are looked up in turn.
/// </summary>
static partial class KeptTexts
{
    /// <summary>Between reasons that are kept as one text.</summary>
    const string Joint = "; ";

    static readonly Lazy<Template[]> Templates = new(() =>
        [
            .. SpanishTable
                .Kept.Where(t => Hole().IsMatch(t.Key))
                .OrderBy(t => t.Key, StringComparer.Ordinal)
                .Select(t => new Template(t.Key, t.Value.Text)),
        ]
    );

    /// <summary>Null: no key fits.</summary>
    public static string? InSpanish(string english) => Find(english)?.Said;

    /// <summary>Of the keys that fit, the one that leaves the least of the text untranslated, its values counted in.</summary>
    static Found? Find(string english)
    {
        if (SpanishTable.Kept.TryGetValue(SaidText.KeyOf(english), out var whole))
            return new(SaidText.Filled(whole.Text, []), english.Length);
        var found = EachReason(english);
        foreach (var template in Templates.Value)
            if (template.Find(english) is { } other && (found is null || other.Translated > found.Value.Translated))
                found = other;
        return found;
    }

    static Found? EachReason(string english)
    {
        if (!english.Contains(Joint, StringComparison.Ordinal))
            return null;
        var reasons = english.Split(Joint).Select(r => (Text: r, Found: Find(r))).ToList();
        return reasons.TrueForAll(r => r.Found is null)
            ? null
            : new(
                string.Join(Joint, reasons.Select(r => r.Found?.Said ?? r.Text)),
                reasons.Sum(r => r.Found?.Translated ?? 0)
            );
    }

    /// <param name="Translated">Characters of the English that a key had.</param>
    readonly record struct Found(string Said, int Translated);

    sealed class Template(string key, string spanish)
    {
        /// <summary>Built when a text first begins and ends as it does: most keys are never asked for.</summary>
        readonly Lazy<Regex> pattern = new(() => PatternOf(key));
        readonly string start = Plain(key[..Hole().Match(key).Index]);
        readonly string end = Plain(key[(key.LastIndexOf('}') + 1)..]);
        readonly int literals = Plain(Hole().Replace(key, "")).Length;

        public Found? Find(string english)
        {
            if (
                english.Length < literals
                || !english.StartsWith(start, StringComparison.Ordinal)
                || !english.EndsWith(end, StringComparison.Ordinal)
                || pattern.Value.Match(english) is not { Success: true } match
            )
                return null;
            var values = match.Groups.Values.Skip(1).Select(v => (v.Value, Found: KeptTexts.Find(v.Value))).ToList();
            return new(
                SaidText.Filled(spanish, [.. values.Select(v => v.Found?.Said ?? v.Value)]),
                literals + values.Sum(v => v.Found?.Translated ?? 0)
            );
        }

        static Regex PatternOf(string key)
        {
            var parts = Hole().Split(key).Select(l => Regex.Escape(Plain(l)));
            return new(
                "^" + string.Join("(.*?)", parts) + "$",
                RegexOptions.NonBacktracking | RegexOptions.Singleline | RegexOptions.CultureInvariant
            );
        }

        static string Plain(string literal) =>
            literal.Replace("{{", "{", StringComparison.Ordinal).Replace("}}", "}", StringComparison.Ordinal);
    }

    [GeneratedRegex(@"\{\d+\}", RegexOptions.NonBacktracking)]
    private static partial Regex Hole();
}
