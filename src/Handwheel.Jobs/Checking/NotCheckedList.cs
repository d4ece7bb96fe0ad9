namespace Handwheel.Jobs.Checking;

/// <summary>What could not be judged, each said once, in words.</summary>
sealed class NotCheckedList
{
    readonly List<string> lines = [];
    readonly HashSet<string> said = new(StringComparer.Ordinal);
    string? last;

    public IReadOnlyList<string> Lines => lines;

    public void Say(string line)
    {
        // What a rule says at every move is the same string each time.
        if (ReferenceEquals(line, last))
            return;
        last = line;
        if (said.Add(line))
            lines.Add(line);
    }
}
