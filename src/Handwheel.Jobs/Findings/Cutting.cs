using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>Whether a move goes into the stock as it lies on the table before anything is cut.</summary>
static class Cutting
{
    /// <summary>
    /// The tool as a cylinder along the straight way between the ends. A tool with no diameter counts as a line; of an arc only the
    /// chord is seen. False where the tip or a place is not known.
    /// </summary>
    public static bool Enters(Facts facts, in Leg leg)
    {
        if (!facts.OwnKnown || !leg.To.IsMachine)
            return false;
        var to = new TipPoint(leg.To.X, leg.To.Y, leg.To.Z - facts.Own);
        var from = leg.From.IsMachine ? new TipPoint(leg.From.X, leg.From.Y, leg.From.Z - facts.Own) : to;
        var radius = Math.Max(2, (facts.Tool?.Diameter?.Nanometres ?? 0) / 2.0);
        foreach (var stock in facts.Table.Stock)
        {
            if (
                stock is { PlaceKnown: true, HeightKnown: true }
                && SweptCylinder.Against(stock, from, to, radius) is not null
            )
                return true;
        }
        return false;
    }
}
