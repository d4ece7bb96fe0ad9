using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Material;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>
/// How deep a tool cuts at once, against the cutting table, and how deep a hole is against the flutes that have to clear its chips. A
/// mill deeper than its flutes is left to <c>shank-contact</c>.
/// </summary>
sealed class DepthOfCutRule(Facts facts) : Rule(facts)
{
    ToolCutting? cutting;
    double deepest;
    long holeTop;
    bool holeKnown;
    int? saidNoFlutes;

    public override RuleInfo Info { get; } =
        new("depth-of-cut", Level.Check, "Deeper than the range of the tool, or than its flutes");

    /// <summary>Only until it has been said: the first place is the one to look at.</summary>
    public override bool Watches(in ControlState state)
    {
        deepest = double.PositiveInfinity;
        if (Facts.Tool is not { Diameter: { } diameter } tool || Facts.CutStock is not { Any: true } stock)
            return false;
        if (Facts.Cutting.Of(tool, CuttingFigure.DepthOfCut)?.Most is not { } most)
            return false;
        cutting = stock.CuttingOf(state.Tool);
        deepest = most * diameter.Nanometres + MaterialRun.Tolerance;
        return cutting is not null && cutting.Depth <= deepest;
    }

    public override void Move(in ControlState state, in Leg leg)
    {
        if (cutting is null || cutting.Depth <= deepest)
            return;
        deepest = double.PositiveInfinity;
        var tool = Facts.Tool!;
        if (tool.FluteLength is { } flutes && cutting.Depth > flutes.Nanometres)
            return;
        var range = Facts.Cutting.Of(tool, CuttingFigure.DepthOfCut)!;
        var times = Figures.Plain(decimal.Round((decimal)(cutting.Depth / tool.Diameter!.Value.Nanometres), 2));
        Report(
            state.Tool,
            state,
            Said.Kept(
                $"{Facts.Name(state.Tool)} takes {Facts.Figures.Say(cutting.Depth)} at once, {times} times its diameter: the table has "
                    + $"{Figures.Plain((decimal)range.Most!.Value)} or less ({Facts.Cutting.Sources(range)})."
            ),
            "Take it in more steps, or put stock or table right."
        );
    }

    public override void CycleMove(in ControlState state, in Leg leg)
    {
        if (leg.Part is CyclePart.Across or CyclePart.ToR)
            holeKnown = false;
        if (leg.Part != CyclePart.Down || !Facts.OwnKnown || !leg.From.IsMachine || !leg.To.IsMachine)
            return;
        if (!holeKnown)
            (holeTop, holeKnown) = (leg.From.Z - Facts.Own, true);
        if (Facts.Tool is not { } tool || tool.Kind == "probe" || Facts.Table.StockTop is not { } top)
            return;
        if (tool.FluteLength is not { } flutes)
        {
            SayNoFlutes(state.Tool);
            return;
        }
        var depth = Math.Min(holeTop, top) - (leg.To.Z - Facts.Own);
        if (depth <= flutes.Nanometres || Again(state.Tool + 50_000_000L, state))
            return;
        Report(
            state.Tool + 50_000_000L,
            state,
            Said.Kept(
                $"The hole of {Facts.Name(state.Tool)} is {Facts.Figures.Say(depth)} deep, counted from R or the top of the stock; its flutes are "
                    + $"{Facts.Figures.Say(flutes.Nanometres)} long. Below that the chips have no way out."
            ),
            "Use a longer tool, or clear the hole all the way at every peck and look whether the chips come."
        );
    }

    public override void HoleAgain(in HoleShape hole) => (holeTop, holeKnown) = (hole.R - Facts.Own, true);

    void SayNoFlutes(int tool)
    {
        if (saidNoFlutes == tool)
            return;
        saidNoFlutes = tool;
        Facts.NotChecked.Say($"depth of holes against the flutes: T{Figures.Whole(tool)} has no flute length");
    }

    public override void Judge(RaiseChoice raise, Totals totals)
    {
        if (Facts.Cutting.Why is not null)
            return;
        foreach (var used in totals.Tools)
        {
            if (!CuttingWords.MayCut(Facts, used) || Facts.Listed(used.Tool) is not { Diameter: not null } tool)
                continue;
            if (Facts.Cutting.Of(tool, CuttingFigure.DepthOfCut) is null)
                continue;
            if (Facts.CutStock is not { Any: true })
                Facts.NotChecked.Say("depth of cut: the stock is not followed to the end");
        }
    }
}
