using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class RapidBelowApproachRule(Facts facts) : Rule(facts)
{
    public override RuleInfo Info { get; } =
        new("rapid-below-approach", Level.Check, "A rapid ends close to the material");

    public override void RapidMove(in ControlState state, in Leg leg)
    {
        if ((leg.Commanded & Axes.Z) == Axes.None || leg.Part != CyclePart.None)
            return;
        if (Facts.Setup.Rules.ApproachClearance is not { } approach)
        {
            Facts.NotChecked.Say("rapids that end close to the material: no approach clearance in the shop's rules");
            return;
        }
        if (!leg.To.IsMachine || !Facts.TryTip(leg.To, out var tip) || (leg.From.RestZ == 0 && leg.To.Z >= leg.From.Z))
            return;
        if (Facts.CutStock?.AirBelow(leg.To, approach.Nanometres) is { } air)
            AsCut(state, air, approach.Nanometres);
        else
            AsRaw(state, leg, tip, approach.Nanometres);
    }

    void AsCut(in ControlState state, double air, long approach)
    {
        if (air >= approach || Again(state.Tool, state))
            return;
        Say(
            state,
            approach,
            air > 0
                ? Said.Kept($"{Facts.Figures.Say(air)} above the material under it, as cut so far")
                : Said.Kept("the material under it")
        );
    }

    /// <summary>Where the material is not followed: the blank as it lies on the table.</summary>
    void AsRaw(in ControlState state, in Leg leg, long tip, long approach)
    {
        var radius = (Facts.Tool?.Diameter?.Nanometres ?? 0) / 2.0;
        long? top = null;
        foreach (var stock in Facts.Table.Stock)
        {
            var known = stock is { PlaceKnown: true, HeightKnown: true };
            var distance = known ? stock.Distance(leg.To.X, leg.To.Y) : double.PositiveInfinity;
            if (distance < radius || distance == 0)
                top = Math.Max(top ?? long.MinValue, stock.Top);
        }
        if (top is not { } highest || tip - highest >= approach || Again(state.Tool, state))
            return;
        var above = tip - highest;
        Say(
            state,
            approach,
            above < 0
                ? Said.Kept($"{Facts.Figures.Say(-above)} below the top of the stock")
                : Said.Kept($"{Facts.Figures.Say(above)} above the top of the stock")
        );
    }

    void Say(in ControlState state, long approach, string where) =>
        Report(
            state.Tool,
            state,
            Said.Kept(
                $"A rapid brings the tip of {Facts.Name(state.Tool)} to {where}; {Facts.Figures.Say(approach)} is the shop's approach clearance."
            ),
            "End the rapid higher and feed the rest."
        );
}
