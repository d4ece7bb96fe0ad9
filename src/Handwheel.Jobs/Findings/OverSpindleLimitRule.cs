using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class OverSpindleLimitRule(Facts facts) : Rule(facts)
{
    readonly double most = (double)(facts.Setup.Machine.MaxSpindle ?? decimal.MaxValue);

    public override RuleInfo Info { get; } = new("over-spindle-limit", Level.Stop, "Faster than the spindle can turn");

    public override Changes Hears => Changes.Spindle;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Spindle) == Changes.None)
            return;
        if (Facts.Setup.Machine.MaxSpindle is not { } limit)
        {
            Facts.NotChecked.Say("spindle speed against the machine's limit: its highest spindle speed is not given");
            return;
        }
        var cause = (long)state.SpindleSpeed;
        if (state.SpindleSpeed <= most || Again(cause, state))
            return;
        Report(
            cause,
            state,
            Said.Kept(
                $"S{Figures.Plain((decimal)state.SpindleSpeed)} is above the machine's limit of {Figures.Plain(limit)} rev/min."
            ),
            "Lower S, and F with it, so that the chip stays the same."
        );
    }
}
