namespace Handwheel.Jobs.Motions;

/// <summary>Which tools have changed places among those that both revisions use.</summary>
public static class ToolOrder
{
    /// <summary>Those outside the longest run of tools that kept their order.</summary>
    public static IReadOnlySet<int> Moved(IEnumerable<int> before, IEnumerable<int> after)
    {
        var old = before.ToList();
        var now = after.Where(old.Contains).ToList();
        old = [.. old.Where(now.Contains)];
        var kept = new int[old.Count + 1, now.Count + 1];
        for (var i = old.Count - 1; i >= 0; i--)
        for (var j = now.Count - 1; j >= 0; j--)
            kept[i, j] = old[i] == now[j] ? kept[i + 1, j + 1] + 1 : Math.Max(kept[i + 1, j], kept[i, j + 1]);
        var moved = now.ToHashSet();
        for (int i = 0, j = 0; i < old.Count && j < now.Count; )
            if (old[i] == now[j])
            {
                moved.Remove(old[i]);
                (i, j) = (i + 1, j + 1);
            }
            else if (kept[i + 1, j] >= kept[i, j + 1])
                i++;
            else
                j++;
        return moved;
    }
}
