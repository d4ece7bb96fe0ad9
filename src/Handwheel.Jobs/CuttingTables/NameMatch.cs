using System.Text.RegularExpressions;

namespace Handwheel.Jobs.CuttingTables;

/// <summary>Finds which of the table's names a free text uses: <c>Aluminium 6061-T6</c> is aluminium.</summary>
static partial class NameMatch
{
    /// <summary>
    /// Every thing that the text names. A name inside a longer one that also fits does not count, so that <c>aluminium bronze</c> is
    /// bronze where the table says so.
    /// </summary>
    public static IReadOnlyList<string> In(string text, IReadOnlyList<NamedMaterial> known)
    {
        var words = Words(text);
        var found = new List<(int Start, int End, string Name)>();
        foreach (var material in known)
        foreach (var name in material.AlsoCalled.Prepend(material.Name))
        {
            var wanted = Words(name);
            for (var i = 0; i + wanted.Count <= words.Count; i++)
                if (words.Skip(i).Take(wanted.Count).SequenceEqual(wanted, StringComparer.Ordinal))
                    found.Add((i, i + wanted.Count, material.Name));
        }
        return
        [
            .. found
                .Where(f =>
                    !found.Exists(o => o.Start <= f.Start && o.End >= f.End && o.End - o.Start > f.End - f.Start)
                )
                .Select(f => f.Name)
                .Distinct(StringComparer.Ordinal),
        ];
    }

    /// <summary>Letters and digits in small letters; what stands between is a gap.</summary>
    public static IReadOnlyList<string> Words(string text) =>
        [.. Word().Matches(text.ToLowerInvariant()).Select(m => m.Value)];

    [GeneratedRegex(@"[\p{L}\p{Nd}]+", RegexOptions.None, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Word();
}
