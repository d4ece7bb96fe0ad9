using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class WrongSpindleDirectionRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("wrong-spindle-direction", Level.Stop, "The spindle turns against the tool's hand");

    public override bool Watches(in ControlState state) => IsWrong(state);

    public override void Move(in ControlState state, in Leg leg)
    {
        if (!IsWrong(state) || !Facts.IsFeed(leg.Kind) || Again(state.Tool, state))
            return;
        var left = Facts.Tool!.Hand == Setups.Hand.Left;
        Report(
            state.Tool,
            state,
            left
                ? Said.Kept($"{Facts.Name(state.Tool)} is a left-hand tool and turns clockwise (M3).")
                : Said.Kept($"{Facts.Name(state.Tool)} is a right-hand tool and turns counterclockwise (M4)."),
            $"Write {(left ? "M4" : "M3")}, or correct the tool's hand in the setup."
        );
    }

    bool IsWrong(in ControlState state) =>
        Facts.Tool is { } tool
        && state.Spindle
            == (tool.Hand == Setups.Hand.Left ? SpindleDirection.Clockwise : SpindleDirection.Counterclockwise);
}
