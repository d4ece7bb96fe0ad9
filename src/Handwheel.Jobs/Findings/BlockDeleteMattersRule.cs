using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class BlockDeleteMattersRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("block-delete-matters", Level.Note, "Lines with a slash change what happens");

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Slash) == Changes.None || Again(0, state))
            return;
        Report(
            0,
            state,
            "This block begins with a slash and was executed: the block-delete switch counts as off. With the switch on it is left out, and the figures may differ.",
            "Set the switch as the setup wants it, and check once more with --block-delete when the switch is used."
        );
    }
}
