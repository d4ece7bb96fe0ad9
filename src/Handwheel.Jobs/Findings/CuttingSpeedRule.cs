using Handwheel.Jobs.Checking;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>
/// The speed of the edge at the tool's diameter against the cutting table. A ball that is not in by its radius cuts with a smaller circle:
/// it is judged by the circle at its deepest cut so far. Below the range only where the machine's spindle could turn faster.
/// </summary>
sealed class CuttingSpeedRule(Facts facts) : Rule(facts)
{
    readonly double spindleMost = (double)(facts.Setup.Machine.MaxSpindle ?? decimal.MaxValue);

    public override RuleInfo Info { get; } =
        new("cutting-speed", Level.Check, "Cutting speed outside the range of the material and tool");

    public override bool Watches(in ControlState state) =>
        state is { Spindle: not SpindleDirection.Stopped, SpindleSpeed: > 0 }
        && Facts.Tool is { Diameter: { } diameter } tool
        && RangeOf(tool) is { } range
        && IsOutside(range, state.SpindleSpeed, diameter.Nanometres, diameter.Nanometres);

    public override void Move(in ControlState state, in Leg leg)
    {
        if (!Facts.IsFeed(leg.Kind) || !(Facts.CutStock?.Cuts ?? Cutting.Enters(Facts, leg)))
            return;
        var tool = Facts.Tool!;
        var range = RangeOf(tool)!;
        double diameter = tool.Diameter!.Value.Nanometres;
        var circle = CuttingCircle(tool, diameter);
        var fast = state.SpindleSpeed * Math.PI * circle > range.Most;
        if (!IsOutside(range, state.SpindleSpeed, diameter, circle))
            return;
        var cause = state.Tool * 2L + (fast ? 1 : 0);
        if (Again(cause, state))
            return;
        Report(cause, state, Message(state, tool, range, circle, fast), Remedy(range, circle, fast));
    }

    CuttingRange? RangeOf(Tool tool) => Facts.Cutting.Of(tool, CuttingFigure.CuttingSpeed);

    /// <summary>Too fast by the circle that cuts, too slow even at the full diameter.</summary>
    bool IsOutside(CuttingRange range, double speed, double diameter, double circle) =>
        speed * Math.PI * circle > range.Most * (1 + CuttingWords.Rounding)
        || (speed * Math.PI * diameter < range.Least * (1 - CuttingWords.Rounding) && speed < spindleMost);

    double CuttingCircle(Tool tool, double diameter)
    {
        if (tool.Kind != "ball end mill" || Facts.CutStock?.CuttingOf(tool.Number) is not { } cut)
            return diameter;
        var depth = Math.Min(cut.Depth, diameter / 2);
        return 2 * Math.Sqrt(depth * (diameter - depth));
    }

    string Message(in ControlState state, Tool tool, CuttingRange range, double circle, bool fast)
    {
        var words = new CuttingWords(Facts);
        var at = circle < tool.Diameter!.Value.Nanometres ? Said.Kept("the circle that cuts, ") : "";
        return Said.Kept(
            $"S{Figures.Plain((decimal)state.SpindleSpeed)} at {at}⌀ {Facts.Figures.Say(circle)} is {words.Speed(state.SpindleSpeed * Math.PI * circle)}, "
                + $"too {(fast ? Said.Kept("fast") : Said.Kept("slow"))}: {words.Speeds(range)} for {words.What(tool)} ({Facts.Cutting.Sources(range)})."
        );
    }

    string Remedy(CuttingRange range, double circle, bool fast)
    {
        var wanted = (fast ? range.Most : range.Least)!.Value / (Math.PI * circle);
        var limited = !fast && wanted > spindleMost;
        var speed = Figures.Whole(
            (long)(
                limited ? spindleMost
                : fast ? Math.Floor(wanted)
                : Math.Ceiling(wanted)
            )
        );
        return limited
            ? $"The machine reaches S{speed}: turn as fast as it can, and set F so that the chip stays the same."
            : $"Write S{speed} or {(fast ? "less" : "more")}, and F with it, so that the chip stays the same; or put material, tool or table right.";
    }

    public override void Judge(RaiseChoice raise, Totals totals)
    {
        if (!totals.Tools.Any(t => CuttingWords.MayCut(Facts, t)))
            return;
        if (Facts.Cutting.Why is { } why)
        {
            Facts.NotChecked.Say("cutting speed, chip load, depth of cut: " + why);
            return;
        }
        foreach (var used in totals.Tools)
            if (CuttingWords.MayCut(Facts, used) && Facts.Listed(used.Tool) is { } tool)
                Say(tool);
    }

    void Say(Tool tool)
    {
        var name = "T" + Figures.Whole(tool.Number);
        var words = new CuttingWords(Facts);
        if (tool.Kind.Length == 0)
            Facts.NotChecked.Say($"cutting speed, chip load, depth of cut: {name} has no kind");
        else if (tool.Diameter is null)
            Facts.NotChecked.Say($"cutting speed: {name} has no diameter");
        else if (RangeOf(tool) is null)
            Facts.NotChecked.Say(
                tool.Kind == "tap" || ChipLoadRule.HasRow(Facts, tool)
                    ? $"cutting speed: no row for {words.What(tool)} ({name})"
                    : $"cutting speed and chip load: no row for {words.What(tool)} ({name})"
            );
        else if (Facts.Cutting.EdgesOf(tool).Count == 0 && RangeOf(tool)!.Rows.Any(r => r.ToolMaterial is not null))
            Facts.NotChecked.Say(
                tool.Material.Length > 0
                    ? $"cutting speed by what the edge is made of: no row for '{tool.Material}' ({name}), judged by the widest range"
                    : $"cutting speed by what the edge is made of: {name} has no word for it, judged by the widest range"
            );
        if (Facts.Setup.Machine.MaxSpindle is null)
            Facts.NotChecked.Say(
                "cutting speed below the range: the machine's highest spindle speed is not given, so it is not known whether it could turn faster"
            );
    }
}
