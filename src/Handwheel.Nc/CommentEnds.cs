namespace Handwheel.Nc;

/// <summary>
/// Where the comments of a line end. Brackets inside may be nested; where they do not balance, the first closing one ends the comment.
/// However the brackets stand, a line is gone through a fixed number of times.
/// </summary>
sealed class CommentEnds
{
    readonly Dictionary<int, int> partners = [];
    readonly Stack<int> open = [];
    int pairedTo = -1;
    bool isPaired;

    /// <summary>Another line begins.</summary>
    public void Clear()
    {
        if (!isPaired)
            return;
        isPaired = false;
        partners.Clear();
    }

    /// <summary>Length of the comment that begins at <paramref name="start"/>, both brackets included; 0 where it has no end before <paramref name="end"/>.</summary>
    public int Length(ReadOnlySpan<byte> text, int start, int end)
    {
        if (isPaired && pairedTo == end)
            return partners.TryGetValue(start, out var partner) ? partner - start + 1 : First(text, start, end);
        var depth = 0;
        for (var i = start; i < end; i++)
        {
            if (text[i] == '(')
                depth++;
            else if (text[i] == ')' && --depth == 0)
                return i - start + 1;
        }
        Pair(text, start, end);
        return First(text, start, end);
    }

    static int First(ReadOnlySpan<byte> text, int start, int end) => text[start..end].IndexOf((byte)')') + 1;

    /// <summary>The closing bracket of every opening one from here on, so that nothing is looked for twice.</summary>
    void Pair(ReadOnlySpan<byte> text, int start, int end)
    {
        isPaired = true;
        pairedTo = end;
        open.Clear();
        for (var i = start; i < end; i++)
        {
            if (text[i] == '(')
                open.Push(i);
            else if (text[i] == ')' && open.TryPop(out var opening))
                partners[opening] = i;
        }
    }
}
