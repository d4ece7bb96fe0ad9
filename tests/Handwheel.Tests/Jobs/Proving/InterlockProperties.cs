using CsCheck;
using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>Random people doing random things, right, wrong, out of order: what they get through never breaks an interlock.</summary>
public class InterlockProperties
{
    [Fact]
    public void No_sequence_of_actions_breaks_an_interlock()
    {
        var plan = Plan(1);
        Gen.Int[0, 1_000_000].Array[20, 160].Sample(choices => Assert.Null(Broken(plan, choices)), iter: 200);
    }

    internal static string? Broken(ProveOutPlan plan, int[] choices)
    {
        var walk = new Walk(plan).Begin();
        var truth = new Truth();
        foreach (var choice in choices)
        {
            var (act, by) = RandomPeople.Choose(walk, choice);
            var before = walk.ProveOut;
            if (before.WhyNot(walk.Entry(act, by)).Count > 0)
                continue;
            walk.Do(act, by);
            if (
                truth.Watch(act, by, Seen(before), Seen(walk.ProveOut), walk.ProveOut.Standing, walk.ProveOut.Ledger) is
                { } broken
            )
                return broken + " after " + string.Join("; ", walk.ProveOut.Entries.Select(e => e.Act));
            if (!before.Entries.SequenceEqual(walk.ProveOut.Entries.Take(before.Entries.Count)))
                return "5: an old entry is not what it was";
        }
        return null;
    }

    static List<Seen> Seen(ProveOut proveOut) => [.. proveOut.Steps.Select(s => new Seen(s.Id, s.Phase, s.State))];
}
