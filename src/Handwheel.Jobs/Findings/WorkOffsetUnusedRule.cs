using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class WorkOffsetUnusedRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("work-offset-unused", Level.Note, "A work offset that the program does not use");

    public override void Judge(RaiseChoice raise, Totals totals)
    {
        var used = totals.Extents.Select(e => e.WorkOffset).ToHashSet();
        var setup = Facts.Setup;
        var places = setup.Stock.Select(s => s.WorkOffset).Concat(setup.Holding.Select(h => h.WorkOffset)).ToHashSet();
        var unused = setup.WorkOffsets.Keys.Where(n => !used.Contains(n) && !places.Contains(n)).Order().ToList();
        if (unused.Count == 0)
            return;
        Book.Add(
            Info,
            0,
            Where.Nowhere,
            $"The setup gives {string.Join(", ", unused)}, and the program does not move in {(unused.Count == 1 ? "it" : "them")}.",
            "Nothing, if it belongs to another job on the same table. Else look whether the program calls the right work offset."
        );
    }
}
