namespace Handwheel.Jobs.Checking;

/// <summary>What could not be judged, each said once, in words.</summary>
sealed class NotCheckedList
{
    readonly List<string> lines = [];
    readonly HashSet<string> said = new(StringComparer.Ordinal);

    public IReadOnlyList<string> Lines => lines;

    public void Say(string line)
    {
        if (said.Add(line))
            lines.Add(line);
    }
}
