using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Motions;

/// <summary>
/// Two revisions compared by what the machine would do, tool by tool. It is made to be read: which steps are opened again is
/// decided by the digests, so that a word too few opens nothing less.
/// </summary>
public static class MotionComparison
{
    /// <summary>The tools of both, in the order of the new one, those that are gone last.</summary>
    public static IReadOnlyList<ToolCompared> Of(FollowedProgram before, FollowedProgram after)
    {
        var (old, now) = (ProgramMotion.Of(before), ProgramMotion.Of(after));
        if (WhyNot(before, after, old, now) is { } why)
            return
            [
                .. now
                    .Tools.Concat(old.Tools.Where(t => now.Tools.All(n => n.Tool != t.Tool)))
                    .Select(t => new ToolCompared(
                        t.Tool,
                        ToolChange.NotKnown,
                        $"{Name(t.Tool)} cannot be compared and counts as changed: {why}."
                    )),
            ];
        var moved = ToolOrder.Moved(old.Tools.Select(t => t.Tool), now.Tools.Select(t => t.Tool));
        var differences = Differences(before, after, old, now);
        var compared = now.Tools.Select(tool =>
        {
            if (old.Tools.FirstOrDefault(t => t.Tool == tool.Tool) is not { } was)
                return new ToolCompared(tool.Tool, ToolChange.Added, $"{Name(tool.Tool)} is new in the program.");
            if (differences.TryGetValue(tool.Tool, out var found))
                return ComparedWords.Of(found, was, tool, after.Setup.Units, moved.Contains(tool.Tool));
            return moved.Contains(tool.Tool)
                ? new(
                    tool.Tool,
                    ToolChange.Moves,
                    $"{Name(tool.Tool)} does the same, but at another place in the order of tools."
                )
                : new ToolCompared(tool.Tool, ToolChange.Same, $"{Name(tool.Tool)} does the same as before.");
        });
        var gone = old
            .Tools.Where(t => now.Tools.All(n => n.Tool != t.Tool))
            .Select(t => new ToolCompared(t.Tool, ToolChange.Gone, $"{Name(t.Tool)} is not in the program any more."));
        return WithWhatFollows([.. compared, .. gone]);
    }

    /// <summary>The whole comparison in one line: <c>T1, T2: the same as before. T4 goes 0.0500 in deeper …</c></summary>
    public static string Summary(IReadOnlyList<ToolCompared> compared)
    {
        var same = compared.Where(t => t.Change == ToolChange.Same).ToList();
        var kept = same.Count == 0 ? "" : string.Join(", ", same.Select(t => Name(t.Tool))) + ": the same as before.";
        return string.Join(
            ' ',
            new[] { kept }
                .Concat(compared.Where(t => t.Change != ToolChange.Same).Select(t => t.Words))
                .Where(w => w.Length > 0)
        );
    }

    internal static string Name(int tool) =>
        tool == 0 ? "The tool in the spindle" : "T" + tool.ToString(CultureInfo.InvariantCulture);

    static string? WhyNot(FollowedProgram before, FollowedProgram after, ProgramMotion old, ProgramMotion now)
    {
        if (before.Setup.Units != after.Setup.Units)
            return $"the setup was in {before.Setup.Units.Symbol()} and is in {after.Setup.Units.Symbol()}";
        if (old.Unknown is { } oldWhy)
            return "before, " + oldWhy;
        return now.Unknown;
    }

    /// <summary>A tool that does the same after a changed one meets what that one leaves.</summary>
    static List<ToolCompared> WithWhatFollows(List<ToolCompared> compared)
    {
        var first = compared.FindIndex(t => t.Change is not (ToolChange.Same or ToolChange.Cuts));
        for (var i = first + 1; first >= 0 && i < compared.Count; i++)
            if (compared[i].Change == ToolChange.Same)
                compared[i] = compared[i] with
                {
                    Words =
                        $"{Name(compared[i].Tool)} does the same as before, and meets what {Name(compared[first].Tool)} leaves.",
                };
        return compared;
    }

    /// <summary>The first difference of each tool that is not the same.</summary>
    static Dictionary<int, MotionDifference> Differences(
        FollowedProgram before,
        FollowedProgram after,
        ProgramMotion old,
        ProgramMotion now
    )
    {
        var windows = new Dictionary<int, (long From, long To)>();
        foreach (var tool in now.Tools)
            if (
                old.Tools.FirstOrDefault(t => t.Tool == tool.Tool) is { } was
                && (was.Path != tool.Path || was.Cutting != tool.Cutting)
            )
                windows[tool.Tool] = Window(was, tool);
        if (windows.Count == 0)
            return [];
        var (oldEvents, newEvents) = (ProgramMotion.Read(before, windows), ProgramMotion.Read(after, windows));
        return windows.Keys.ToDictionary(
            t => t,
            t => MotionDifference.First(oldEvents[t], newEvents[t], MovesDiffer(old, now, t))
        );
    }

    static bool MovesDiffer(ProgramMotion old, ProgramMotion now, int tool) => old.Paths[tool] != now.Paths[tool];

    /// <summary>The first stretch between two marks in which the runs part, and one stretch more.</summary>
    static (long From, long To) Window(MotionDigest was, MotionDigest tool)
    {
        var paths = was.Path != tool.Path;
        var mark = 1;
        while (
            mark < Math.Min(was.Marks.Count, tool.Marks.Count)
            && (
                paths
                    ? was.Marks[mark].Path == tool.Marks[mark].Path
                    : was.Marks[mark].Cutting == tool.Marks[mark].Cutting
            )
        )
            mark++;
        var from = (long)(mark - 1) * MotionDigest.Stride;
        return (from, from + 2 * MotionDigest.Stride);
    }
}
