namespace Handwheel.Jobs.Setups;

/// <summary>The known word that a mistyped one was probably meant to be.</summary>
public static class Nearest
{
    /// <summary>Null where nothing is near: at most a third of the letters may differ.</summary>
    public static string? To(string typed, IEnumerable<string> known)
    {
        string? best = null;
        var least = Math.Max(1, typed.Length / 3) + 1;
        foreach (var word in known)
        {
            var distance = Distance(typed.ToUpperInvariant(), word.ToUpperInvariant());
            if (distance < least)
                (best, least) = (word, distance);
        }
        return best;
    }

    /// <summary>Letters to insert, drop, replace or exchange with their neighbour (optimal string alignment).</summary>
    static int Distance(string a, string b)
    {
        if (a.Length > 100 || b.Length > 100)
            return int.MaxValue;
        var rows = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++)
            rows[i, 0] = i;
        for (var j = 0; j <= b.Length; j++)
            rows[0, j] = j;
        for (var i = 1; i <= a.Length; i++)
        for (var j = 1; j <= b.Length; j++)
        {
            var replaced = rows[i - 1, j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            rows[i, j] = Math.Min(replaced, 1 + Math.Min(rows[i - 1, j], rows[i, j - 1]));
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                rows[i, j] = Math.Min(rows[i, j], rows[i - 2, j - 2] + 1);
        }
        return rows[a.Length, b.Length];
    }
}
