using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class ListedToolUnusedRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("listed-tool-unused", Level.Note, "A listed tool that the program does not use");

    public override void Judge(RaiseChoice raise, Totals totals)
    {
        var unused = Facts
            .Setup.Tools.Select(t => t.Number)
            .Where(n => !totals.Tools.Any(t => t.Tool == n && t.Uses > 0))
            .ToList();
        if (unused.Count == 0)
            return;
        var names = string.Join(", ", unused.Select(n => "T" + Figures.Whole(n)));
        Book.Add(
            Info,
            0,
            Where.Nowhere with
            {
                Tool = unused[0],
            },
            $"The setup lists {names}, and the program never brings {(unused.Count == 1 ? "it" : "them")} in.",
            "Nothing, if the magazine holds more than this job needs. Else look whether this is the right program."
        );
    }
}
