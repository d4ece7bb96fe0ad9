using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// How long the air cut takes at each of the machine's pairs of rates, tool by tool: every feed move at <c>cut</c>, every rapid at
/// <c>rapid × rapidOverride</c>; no dwell, no tool change, no acceleration.
/// </summary>
static class AirCutTimes
{
    const int Decimals = 6;

    public static IReadOnlyList<AirCutTime> Of(Setup setup, PathClock clock, Totals totals)
    {
        var used = totals.Tools.Where(t => t.Uses > 0).ToList();
        return [.. setup.Machine.AirCutRates.Select(rate => At(rate, setup, clock, used))];
    }

    static AirCutTime At(AirCutRate rate, Setup setup, PathClock clock, List<ToolTotals> used)
    {
        var picometres = setup.Units.Nanometres() * 1000m;
        var cut = rate.Cut * picometres / 60;
        var rapid = rate.Rapid * setup.AirCut.RapidOverride * picometres / 60;
        var moves = cut > 0 && rapid > 0;
        var known = moves && !clock.CutUnknown && !clock.RapidUnknown;
        return new AirCutTime(
            rate.Cut,
            rate.Rapid,
            setup.AirCut.RapidOverride,
            known ? Round(clock.CutPicometres / cut + clock.RapidPicometres / rapid) : null
        )
        {
            Tools =
                known ? Shares(used, cut, rapid)
                : moves ? [.. used.Select(t => new ToolSeconds(t.Tool, Alone(t, cut, rapid)))]
                : [.. used.Select(t => new ToolSeconds(t.Tool, null))],
        };
    }

    /// <summary>Rounded along the running sum, so that the tools add up to the whole in the last decimal too.</summary>
    static List<ToolSeconds> Shares(List<ToolTotals> used, decimal cut, decimal rapid)
    {
        var shares = new List<ToolSeconds>();
        var (cutSoFar, rapidSoFar, before) = (0L, 0L, 0m);
        foreach (var tool in used)
        {
            cutSoFar += tool.CutPicometres;
            rapidSoFar += tool.RapidPicometres;
            var after = Round(cutSoFar / cut + rapidSoFar / rapid);
            shares.Add(new ToolSeconds(tool.Tool, after - before));
            before = after;
        }
        return shares;
    }

    static decimal? Alone(ToolTotals tool, decimal cut, decimal rapid) =>
        tool.CutUnknown || tool.RapidUnknown ? null : Round(tool.CutPicometres / cut + tool.RapidPicometres / rapid);

    static decimal Round(decimal seconds) => decimal.Round(seconds, Decimals, MidpointRounding.AwayFromZero);
}
