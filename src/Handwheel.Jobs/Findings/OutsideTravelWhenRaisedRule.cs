using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class OutsideTravelWhenRaisedRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("outside-travel-when-raised", Level.Stop, "The next whole raise leaves the travel");

    public override void Judge(RaiseChoice raise, Totals totals)
    {
        if (raise.StepTooHigh is not { } step)
            return;
        var figures = Facts.Figures;
        var window = Facts.Window;
        Book.Add(
            Info,
            0,
            window.HighestAt,
            Said.Kept(
                $"With the raise of {figures.Say(step)}, the smallest multiple of {figures.Say(Facts.RaiseStep)} that clears, Z goes {figures.Say(step - raise.Maximum!.Value)} beyond its upper limit here. "
                    + $"A raise between {figures.Say(raise.Minimum!.Value)} and {figures.Say(raise.Maximum.Value)} would do."
            ),
            "Make airCut.raiseStep smaller in the setup and use gauge blocks of that height."
        );
    }
}
