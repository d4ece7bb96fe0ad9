using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Material;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>
/// Feed for each tooth (mills, moves that are mostly level) and for each turn (drills, straight down) against the cutting table. With a cut
/// narrower than the tool's radius the chip is thinner than the feed for each tooth by 2√(x(1−x)), x the width over the diameter (plane
/// geometry): too much is said only where that chip, too, is above the range. Taps are left to their pitch.
/// </summary>
sealed class ChipLoadRule(Facts facts) : Rule(facts)
{
    /// <summary>Steeper than this (rise over way across) a move is a plunge, which is fed slower on purpose.</summary>
    const double SteepestRamp = 0.5;

    ToolCutting? cutting;
    double volumeBefore;
    double arcLength;

    public override RuleInfo Info { get; } =
        new("chip-load", Level.Check, "Chip load outside the range of the material and tool");

    public override bool Watches(in ControlState state)
    {
        if (Facts.Tool is not { } tool || FeedPerTurn(state) is not (> 0 and var feed))
            return false;
        var outside =
            Outside(Range(tool, CuttingFigure.FeedPerTooth), feed / (tool.Flutes ?? double.NaN))
            || Outside(Range(tool, CuttingFigure.FeedPerRevolution), feed);
        if (!outside)
            return false;
        cutting = Facts.CutStock?.CuttingOf(state.Tool);
        volumeBefore = cutting?.Volume ?? 0;
        arcLength = 0;
        return true;
    }

    public override void ArcMove(in ControlState state, in Leg leg, in Arc arc) => arcLength = arc.Length;

    public override void Move(in ControlState state, in Leg leg)
    {
        var length = arcLength > 0 ? arcLength : Straight(leg);
        arcLength = 0;
        var taken = (cutting?.Volume ?? 0) - volumeBefore;
        volumeBefore += taken;
        if (!Facts.IsFeed(leg.Kind) || leg.Tapping)
            return;
        var across = Across(leg);
        var down = leg.From.Z - leg.To.Z;
        if (across == 0 && down > 0)
            Turn(state, leg);
        else if (Facts.CutStock?.Cuts == true && Math.Abs(down) <= Math.Max(across, length / 2) * SteepestRamp)
            Tooth(state, taken, length);
    }

    void Turn(in ControlState state, in Leg leg)
    {
        var tool = Facts.Tool!;
        var range = Range(tool, CuttingFigure.FeedPerRevolution);
        var feed = FeedPerTurn(state)!.Value;
        if (!Outside(range, feed) || !(Facts.CutStock?.Cuts ?? Cutting.Enters(Facts, leg)))
            return;
        Say(state, tool, range!, feed, isTooth: false, feed > range!.Most, "");
    }

    void Tooth(in ControlState state, double taken, double length)
    {
        var tool = Facts.Tool!;
        var range = Range(tool, CuttingFigure.FeedPerTooth);
        var feed = FeedPerTurn(state)!.Value / (tool.Flutes ?? double.NaN);
        if (!Outside(range, feed))
            return;
        var heavy = feed > range!.Most;
        var thinning = heavy && tool.Diameter is { } diameter ? Thinning(taken, length, diameter.Nanometres) : 1;
        if (heavy && feed * thinning <= range.Most)
            return;
        var thinner =
            thinning < 1
                ? Said.Kept(
                    $" Even as thin as its narrow cut makes it, the chip is {new CuttingWords(Facts).Feed(feed * thinning)}."
                )
                : "";
        Say(state, tool, range, feed, isTooth: true, heavy, thinner);
    }

    /// <summary>
    /// The width is what was taken off over the way and over the tool's deepest cut so far: never wider than it is, so that the chip is not
    /// thought thicker than it is.
    /// </summary>
    double Thinning(double taken, double length, double diameter)
    {
        var depth = cutting?.Depth ?? 0;
        if (length <= 0 || depth <= 0)
            return 1;
        var share = taken * 1e18 / (length * depth) / diameter;
        return share >= 0.5 ? 1 : 2 * Math.Sqrt(share * (1 - share));
    }

    void Say(
        in ControlState state,
        Tool tool,
        CuttingRange range,
        double feed,
        bool isTooth,
        bool heavy,
        string thinner
    )
    {
        var cause = state.Tool * 2L + (heavy ? 1 : 0);
        if (Again(cause, state))
            return;
        var words = new CuttingWords(Facts);
        var fed = Fed(state, tool, isTooth);
        var amount = heavy ? Said.Kept("much") : Said.Kept("little");
        var source = Facts.Cutting.Sources(range);
        Report(
            cause,
            state,
            isTooth
                ? Said.Kept(
                    $"{fed} is {words.Feed(feed)} a tooth, too {amount}: {words.Feeds(range)} for {words.What(tool)} ({source}).{thinner}"
                )
                : Said.Kept(
                    $"{fed} is {words.Feed(feed)} a turn, too {amount}: {words.Feeds(range)} for {words.What(tool)} ({source})."
                ),
            heavy
                ? "Lower F or raise S: the edge breaks out, or the tool is pulled. A slipped point or the other unit is a common cause."
                : "Raise F or lower S: the edge rubs and does not cut. A slipped point or the other unit is a common cause."
        );
    }

    /// <summary>The feed a minute, with what the chip was worked out from.</summary>
    string Fed(in ControlState state, Tool tool, bool isTooth)
    {
        var isPerMinute = state.FeedMode == FeedMode.PerMinute;
        var rate = Facts.Figures.Rate(isPerMinute ? state.Feed : state.Feed * state.SpindleSpeed);
        var speed = Figures.Plain((decimal)state.SpindleSpeed);
        return (isPerMinute, isTooth) switch
        {
            (true, true) => Said.Kept($"{rate} at S{speed} with {Flutes(tool)} flutes"),
            (true, false) => Said.Kept($"{rate} at S{speed}"),
            (false, true) => Said.Kept($"{rate} with {Flutes(tool)} flutes"),
            _ => rate,
        };
    }

    static string Flutes(Tool tool) => Figures.Whole(tool.Flutes!.Value);

    CuttingRange? Range(Tool tool, CuttingFigure figure) => tool.Kind == "tap" ? null : Facts.Cutting.Of(tool, figure);

    /// <summary>The table says something of this tool's chip.</summary>
    public static bool HasRow(Facts facts, Tool tool) =>
        facts.Cutting.Of(tool, CuttingFigure.FeedPerTooth) is not null
        || facts.Cutting.Of(tool, CuttingFigure.FeedPerRevolution) is not null;

    static bool Outside(CuttingRange? range, double feed) =>
        range is not null
        && (feed > range.Most * (1 + CuttingWords.Rounding) || feed < range.Least * (1 - CuttingWords.Rounding));

    /// <summary>nm for each turn; null where it cannot be told: the spindle stands, no feed, or inverse time.</summary>
    static double? FeedPerTurn(in ControlState state) =>
        !state.FeedGiven || state.Spindle == SpindleDirection.Stopped || state.SpindleSpeed <= 0
            ? null
            : state.FeedMode switch
            {
                FeedMode.PerMinute => state.Feed / state.SpindleSpeed,
                FeedMode.PerRevolution => state.Feed,
                _ => null,
            };

    static double Across(in Leg leg)
    {
        double dx = leg.To.X - leg.From.X,
            dy = leg.To.Y - leg.From.Y;
        return Math.Sqrt(dx * dx + dy * dy);
    }

    static double Straight(in Leg leg)
    {
        double across = Across(leg),
            dz = leg.To.Z - leg.From.Z;
        return Math.Sqrt(across * across + dz * dz);
    }

    public override void Judge(RaiseChoice raise, Totals totals)
    {
        if (Facts.Cutting.Why is not null)
            return;
        foreach (var used in totals.Tools)
            if (CuttingWords.MayCut(Facts, used) && Facts.Listed(used.Tool) is { Kind: not ("" or "tap") } tool)
                SayWhatIsOpen(tool);
    }

    void SayWhatIsOpen(Tool tool)
    {
        var name = "T" + Figures.Whole(tool.Number);
        var turn = Range(tool, CuttingFigure.FeedPerRevolution);
        if (!HasRow(Facts, tool))
        {
            // where the speed has no row either, one line says both
            if (Facts.Cutting.Of(tool, CuttingFigure.CuttingSpeed) is not null || tool.Diameter is null)
                Facts.NotChecked.Say($"chip load: no row for {new CuttingWords(Facts).What(tool)} ({name})");
        }
        else if (turn is null && tool.Flutes is null)
            Facts.NotChecked.Say($"chip load: {name} has no number of flutes");
        else if (turn is null && Facts.CutStock is not { Any: true })
            Facts.NotChecked.Say(
                "chip load of mills: the stock is not followed to the end, so it is not known what they cut"
            );
        else if (turn is null && tool.Diameter is { } diameter && diameter.Nanometres < 4 * Facts.MaterialGrid)
            Facts.NotChecked.Say(
                $"chip load of mills: {name} is too small for the grid of {Facts.Figures.Say(Facts.MaterialGrid)} over the stock, so it is not known what it cuts (rules.materialGrid makes it finer)"
            );
    }

    public override Changes Hears => Changes.FeedMode;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.FeedMode) != Changes.None && state.FeedMode == FeedMode.InverseTime)
            Facts.NotChecked.Say("chip load under G93: the feed of each move depends on its length");
    }
}
