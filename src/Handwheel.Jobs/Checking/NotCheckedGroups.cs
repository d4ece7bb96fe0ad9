using System.Text.RegularExpressions;

namespace Handwheel.Jobs.Checking;

/// <summary>Things not checked for the same sort of reason. <paramref name="Why"/> may be empty.</summary>
/// <param name="What">What is not checked: <c>holder contact</c>.</param>
/// <param name="Why">Each reason once: <c>T1, T4 have no holder</c>.</param>
public sealed record NotCheckedGroup(string What, IReadOnlyList<string> Why);

/// <summary>Puts the lines of <see cref="CheckResult.NotChecked"/> together by what they are about, for people; the document keeps the lines.</summary>
public static partial class NotCheckedGroups
{
    /// <summary>In the order in which each thing is first said.</summary>
    public static IReadOnlyList<NotCheckedGroup> Of(IEnumerable<string> lines)
    {
        var groups = new List<(string What, List<string> Why)>();
        foreach (var line in lines)
        {
            var at = line.IndexOf(": ", StringComparison.Ordinal);
            var what = at < 0 ? line : line[..at];
            var group = groups.FirstOrDefault(g => g.What == what);
            if (group.Why is null)
                groups.Add(group = (what, []));
            if (at >= 0)
                group.Why.Add(line[(at + 2)..]);
        }
        return [.. groups.Select(g => new NotCheckedGroup(g.What, Together(g.Why)))];
    }

    /// <summary>The same reason of several tools is one reason.</summary>
    static List<string> Together(List<string> reasons)
    {
        var together = new List<string>();
        foreach (var same in reasons.Distinct(StringComparer.Ordinal).GroupBy(ToolLess))
        {
            if (same.Key.Length == 0 || same.Count() == 1)
                together.AddRange(same);
            else
                together.Add(
                    $"{string.Join(", ", same.Select(r => r[..r.IndexOf(' ', StringComparison.Ordinal)]))} have{same.Key}"
                );
        }
        return together;
    }

    /// <summary>What follows <c>T4 has</c>; empty where the reason is not of that form.</summary>
    static string ToolLess(string reason) =>
        OfATool().Match(reason) is { Success: true } m ? m.Groups["what"].Value : "";

    [GeneratedRegex(@"^T\d+ has(?<what> .+)$", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex OfATool();
}
