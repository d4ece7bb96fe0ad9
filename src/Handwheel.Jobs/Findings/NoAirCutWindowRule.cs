using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class NoAirCutWindowRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("no-air-cut-window", Level.Check, "No raise both clears and stays inside the travel");

    public override void Judge(RaiseChoice raise, Totals totals)
    {
        if (!raise.NoWindow)
            return;
        var figures = Facts.Figures;
        var window = Facts.Window;
        var at = window.LowestAt.Line > 0 ? window.LowestAt : window.HighestAt;
        Book.Add(
            Info,
            0,
            at,
            Said.Kept(
                $"To clear, {Facts.Name(window.LowestAt.Tool)} needs a raise of {figures.Say(raise.Minimum!.Value)} here; "
                    + $"{Facts.Name(window.HighestAt.Tool)} at line {Figures.Whole(window.HighestAt.Line)} allows {figures.Say(raise.Maximum!.Value)}: "
                    + $"{figures.Say(raise.Minimum.Value - raise.Maximum.Value)} too little under the upper Z limit."
            ),
            "Lower the retract heights of the program, shorten the longest tool, lower the clamps, or prove the program another way with the supervisor's signature."
        );
    }
}
