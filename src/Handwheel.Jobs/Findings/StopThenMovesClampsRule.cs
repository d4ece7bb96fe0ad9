using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class StopThenMovesClampsRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("stop-then-moves-clamps", Level.Note, "The program stops for a person");

    public override Changes Hears => Changes.Stop;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Stop) == Changes.None || Again(0, state))
            return;
        Report(
            0,
            state,
            "M0 or M1: what a person does here, moving a clamp or turning the part, is not in the setup. Clearance after it is judged as if nothing had been moved.",
            "Read the note beside the stop, and look at the table again before going on."
        );
    }
}
