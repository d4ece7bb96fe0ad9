using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class SpindleNotTurningRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("spindle-not-turning", Level.Stop, "Material is cut with the spindle standing");

    public override bool Watches(in ControlState state) => IsStanding(state);

    public override void Move(in ControlState state, in Leg leg)
    {
        if (!IsStanding(state) || !Facts.IsFeed(leg.Kind) || Facts.Tool is { Kind: "probe" })
            return;
        if (leg.Tapping && state.SpindleSpeed > 0)
            return;
        if (Facts.Table.StockTop is null)
        {
            Facts.NotChecked.Say("cutting with the spindle standing: no stock is described");
            return;
        }
        if (!(Facts.CutStock?.Cuts ?? Cutting.Enters(Facts, leg)) || Again(state.Tool, state))
            return;
        var what =
            state.Spindle == SpindleDirection.Stopped
                ? Said.Kept("no M3 or M4 is in force")
                : Said.Kept("M3 or M4 is in force with no speed");
        Report(
            state.Tool,
            state,
            Said.Kept($"{Facts.Name(state.Tool)} feeds into the stock, and {what}."),
            "Start the spindle with S and M3 before the first cut. A tool change stops it."
        );
    }

    static bool IsStanding(in ControlState state) =>
        state.Spindle == SpindleDirection.Stopped || state.SpindleSpeed <= 0;
}
