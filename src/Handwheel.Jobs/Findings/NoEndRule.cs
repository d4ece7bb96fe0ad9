using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class NoEndRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("no-end", Level.Check, "No end of program");

    public override void End(in ControlState state, RunEnd end)
    {
        if (end != RunEnd.TextEnds)
            return;
        Report(
            0,
            state,
            Said.Kept("The text ends with no M2 or M30: the file may have been cut off."),
            "Compare the end of the file with what was sent. Add M30 where the program is complete."
        );
    }
}
