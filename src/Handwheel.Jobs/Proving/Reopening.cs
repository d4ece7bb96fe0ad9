namespace Handwheel.Jobs.Proving;

/// <summary>Opens steps again: exactly those that rest on what changed, and what follows them.</summary>
static class Reopening
{
    public static void Ground(Course course, string ground, string why, Doer by, string? except = null) =>
        Grounds(course, new HashSet<string>(StringComparer.Ordinal) { ground }, why, by, except);

    public static void Grounds(
        Course course,
        IReadOnlySet<string> grounds,
        string why,
        Doer by,
        string? except = null,
        IEnumerable<string>? alsoFollowing = null
    )
    {
        var touched = course
            .Table.Rules.Where(r => r.Id != except && r.RestsOn.Any(grounds.Contains) && IsTouched(course, r.Id))
            .Select(r => r.Id)
            .ToList();
        foreach (var id in touched)
            course[id] = course[id].Reopened(why, by);
        Followers(course, touched.Concat(alsoFollowing ?? []), why, by);
    }

    public static void Step(Course course, string id, string why, Doer by)
    {
        course[id] = course[id].Reopened(why, by);
        Followers(course, [id], why, by);
    }

    static void Followers(Course course, IEnumerable<string> opened, string why, Doer by)
    {
        var waiting = new Queue<string>(opened);
        var seen = waiting.ToHashSet(StringComparer.Ordinal);
        while (waiting.TryDequeue(out var id))
            foreach (var rule in course.Table.Rules.Where(r => r.Follows.Contains(id)))
            {
                if (!seen.Add(rule.Id))
                    continue;
                if (rule.Takes != Takes.Nothing && !IsTouched(course, rule.Id))
                    continue;
                if (rule.Takes != Takes.Nothing)
                    course[rule.Id] = course[rule.Id].Reopened(why, by);
                waiting.Enqueue(rule.Id);
            }
    }

    static bool IsTouched(Course course, string id) => course[id].State != StepState.Open;
}
