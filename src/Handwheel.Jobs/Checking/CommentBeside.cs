using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>What a programmer wrote for the person at a block: a comment in it, else on lines of their own right before or after it.</summary>
static class CommentBeside
{
    /// <summary>More lines are a text and no instruction.</summary>
    const int LinesMost = 3;

    /// <param name="at">A byte of the block.</param>
    /// <returns>The comment without its brackets, and <c>block</c>, <c>before</c> or <c>after</c>; empty and null where there is none.</returns>
    public static (string Text, string? From) Of(ReadOnlyMemory<byte> text, int at)
    {
        var (start, end) = Line(text.Span, Math.Clamp(at, 0, text.Length));
        if (Comment(text[start..end], alone: false) is { } own)
            return (own, "block");
        var before = new List<string>();
        for (var from = start; from > 0 && before.Count < LinesMost; )
        {
            var (first, last) = Line(text.Span, LineEndBefore(text.Span, from));
            if (Comment(text[first..last], alone: true) is not { } comment)
                break;
            before.Insert(0, comment);
            from = first;
        }
        if (before.Count > 0)
            return (string.Join(" ", before), "before");
        var after = new List<string>();
        for (var to = end; to < text.Length && after.Count < LinesMost; )
        {
            var (first, last) = Line(text.Span, AfterLineEnd(text.Span, to));
            if (first >= text.Length || Comment(text[first..last], alone: true) is not { } comment)
                break;
            after.Add(comment);
            to = last;
        }
        return after.Count > 0 ? (string.Join(" ", after), "after") : ("", null);
    }

    static (int Start, int End) Line(ReadOnlySpan<byte> text, int at)
    {
        var start = text[..at].LastIndexOfAny((byte)'\n', (byte)'\r') + 1;
        var length = text[at..].IndexOfAny((byte)'\n', (byte)'\r');
        return (start, length < 0 ? text.Length : at + length);
    }

    static int LineEndBefore(ReadOnlySpan<byte> text, int start) =>
        start > 1 && text[start - 1] == '\n' && text[start - 2] == '\r' ? start - 2 : start - 1;

    static int AfterLineEnd(ReadOnlySpan<byte> text, int end) =>
        end + 1 < text.Length && text[end] == '\r' && text[end + 1] == '\n' ? end + 2 : Math.Min(end + 1, text.Length);

    /// <param name="alone">Nothing else may stand in the line but a block number.</param>
    static string? Comment(ReadOnlyMemory<byte> line, bool alone)
    {
        if (line.IsEmpty)
            return null;
        var pieces = new ProgramListing(line).Pieces(1);
        if (alone && pieces.Any(p => p.Kind is not (ListedKind.Comment or ListedKind.Blank or ListedKind.BlockNumber)))
            return null;
        var said = pieces.Where(p => p.Kind == ListedKind.Comment).Select(p => Inside(p.Text)).Where(t => t.Length > 0);
        return string.Join(" ", said) is { Length: > 0 } comment ? comment : null;
    }

    static string Inside(string comment) =>
        (comment[0] == ';' ? comment[1..] : comment.TrimStart('(').TrimEnd(')')).Trim();
}
