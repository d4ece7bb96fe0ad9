using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>Only codes of which the machine's description says that they do this.</summary>
sealed class HoldsSuppressedRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("holds-suppressed", Level.Check, "Feed hold, single block or overrides are switched off");

    public override Changes Hears => Changes.HoldsSuppressed;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.HoldsSuppressed) == Changes.None || Again(0, state))
            return;
        Report(
            0,
            state,
            Said.Kept(
                "A code of this block switches off feed hold, single block or the overrides: from here the thumb on feed hold may stop nothing."
            ),
            "Know where it is switched on again, keep the emergency stop in reach, and take the code out for the air cut where that can be done."
        );
    }
}
