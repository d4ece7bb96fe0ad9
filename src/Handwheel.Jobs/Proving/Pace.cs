namespace Handwheel.Jobs.Proving;

/// <summary>Steps of one card that were entered closer together than a person can look.</summary>
/// <param name="Quick">Steps entered within <see cref="Pace.Look"/> of the same person's step before.</param>
/// <param name="Entry">The first of them.</param>
public sealed record QuickCard(string Phase, string Card, int Quick, long Entry);

/// <summary>A step that came long after the entry before it.</summary>
/// <param name="After">Since the entry before; at least <see cref="Pace.Long"/>.</param>
public sealed record LateStep(long Entry, string Title, TimeSpan After);

/// <summary>
/// How quickly the steps of a prove-out followed each other, told of the steps and never of people: a card that is ticked through at once
/// says that its steps ask for nothing worth looking at, or that they were entered at the end. Times are when people did it: for an entry
/// that waited on a tablet, by the tablet's word.
/// </summary>
public static class Pace
{
    /// <summary>Nobody goes, looks and comes back in less (common practice, no source).</summary>
    public static readonly TimeSpan Look = TimeSpan.FromSeconds(2);

    /// <summary>A gap worth a word to the reviewer (common practice, no source).</summary>
    public static readonly TimeSpan Long = TimeSpan.FromMinutes(15);

    /// <summary>A single quick tick is a person who looked at two things at once.</summary>
    const int LeastOfACard = 2;

    /// <summary>Cards with more than one step entered too quickly to have been looked at, in the order they were entered.</summary>
    public static IReadOnlyList<QuickCard> Quick(ProveOut proveOut)
    {
        var steps = proveOut.Steps.ToDictionary(s => s.Id, StringComparer.Ordinal);
        var done = proveOut
            .Entries.Where(e => e.Act is Ticked or ReadingTyped or FindingsSeen && steps.ContainsKey(e.Act.About!))
            .ToList();
        return
        [
            .. done.Zip(done.Skip(1))
                .Where(p => p.First.By.Person == p.Second.By.Person && p.Second.DoneAt - p.First.DoneAt < Look)
                .Select(p => (p.Second.Number, Step: steps[p.Second.Act.About!]))
                .GroupBy(q => (q.Step.Phase, q.Step.Card))
                .Where(g => g.Count() >= LeastOfACard)
                .Select(g => new QuickCard(StepTable.PhaseName(g.Key.Phase), g.Key.Card, g.Count(), g.First().Number)),
        ];
    }

    /// <summary>The steps with the longest time before them, the longest first.</summary>
    /// <param name="most">How many at most.</param>
    public static IReadOnlyList<LateStep> Late(ProveOut proveOut, int most)
    {
        var titles = proveOut.Steps.ToDictionary(s => s.Id, s => $"{s.Card}, {s.Title}", StringComparer.Ordinal);
        return
        [
            .. proveOut
                .Entries.Zip(proveOut.Entries.Skip(1))
                .Where(p => p.Second.Act.About is { } step && titles.ContainsKey(step))
                .Select(p => new LateStep(
                    p.Second.Number,
                    titles[p.Second.Act.About!],
                    p.Second.DoneAt - p.First.DoneAt
                ))
                .Where(s => s.After >= Long)
                .OrderByDescending(s => s.After)
                .ThenBy(s => s.Entry)
                .Take(most),
        ];
    }
}
