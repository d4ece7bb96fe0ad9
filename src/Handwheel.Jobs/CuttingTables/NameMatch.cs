namespace Handwheel.Jobs.CuttingTables;

/// <summary>Finds which of the table's names a free text uses: <c>Aluminium 6061-T6</c> is aluminium.</summary>
static class NameMatch
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
                if (Stands(wanted, words, i))
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

    static bool Stands(List<string> wanted, List<string> words, int at)
    {
        for (var i = 0; i < wanted.Count; i++)
            if (!string.Equals(wanted[i], words[at + i], StringComparison.Ordinal))
                return false;
        return true;
    }

    /// <summary>Letters and digits in small letters; what stands between is a gap.</summary>
    public static List<string> Words(string text)
    {
        var words = new List<string>();
        var start = -1;
        for (var i = 0; i <= text.Length; i++)
        {
            var inside = i < text.Length && char.IsLetterOrDigit(text[i]);
            if (inside && start < 0)
                start = i;
            else if (!inside && start >= 0)
            {
                words.Add(text[start..i].ToLowerInvariant());
                start = -1;
            }
        }
        return words;
    }
}
