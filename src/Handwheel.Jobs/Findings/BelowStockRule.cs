using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class BelowStockRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } = new("below-stock", Level.Check, "The tip goes below the stock");

    public override void LowMove(in ControlState state, in Leg leg)
    {
        if (!leg.To.IsMachine || !Facts.TryTip(leg.To, out var tip))
            return;
        var (x, y) = (leg.To.X, leg.To.Y);
        var radius = (Facts.Tool?.Diameter?.Nanometres ?? 0) / 2.0;
        var stock = Facts.Table.Stock.FirstOrDefault(s =>
            s is { PlaceKnown: true, HeightKnown: true } && s.Distance(x, y) <= radius && tip < s.Bottom
        );
        if (stock is null)
            return;
        var near = Facts.Table.Holding.FirstOrDefault(h =>
            h is { PlaceKnown: true, HeightKnown: true }
            && h.Distance(x, y) < radius
            && tip - h.Top < stock.Bottom - tip
        );
        var cause = state.Tool * 2 + (near is null ? 0 : 1);
        if (Again(cause, state))
            return;
        var text =
            $"The tip of {Facts.Name(state.Tool)} goes {Facts.Figures.Say(stock.Bottom - tip)} below the underside of the stock";
        Report(
            cause,
            state,
            near is null
                ? text + ". Nothing is described under it here."
                : text + $", over {near.Name}, whose top is {Facts.Figures.Say(tip - near.Top)} under the tip.",
            near is null
                ? "Look that there is a gap under the hole: table, parallels, vise bed."
                : "Look at the gap under the part before the first cut.",
            near is null ? Level.Note : Level.Check
        );
    }
}
