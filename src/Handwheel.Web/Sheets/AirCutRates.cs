using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets;

/// <summary>The rates that the machine offers for an air cut, and how long each tool takes at them, so that the setter can pick one.</summary>
static class AirCutRates
{
    /// <summary>More would leave no room for the figures.</summary>
    const int RatesMost = 6;

    public static void Print(Flow flow, CheckResult check, Units units)
    {
        var rates = check.RunTime.AirCut.Take(RatesMost).ToList();
        if (rates.Count == 0)
            return;
        flow.Words("How long the air cut takes, by the rate chosen", Face.SansBold, 10);
        Column[] columns =
        [
            new("T", 60, Face: Face.MonoBold, Size: 11),
            .. rates.Select(r => new Column(Head(r, units), 100, Align.Right, Face.Mono, 10)),
        ];
        var rows = new List<Cell[]>();
        foreach (var (i, tool) in rates[0].Tools.Index())
            rows.Add([
                tool.Tool.ToString(CultureInfo.InvariantCulture),
                .. rates.Select(r => (Cell)Figures.Time(r.Tools[i].Seconds)),
            ]);
        rows.Add(["all", .. rates.Select(r => (Cell)Figures.Time(r.Seconds))]);
        rows.Add(["chosen", .. rates.Select(_ => Cell.Tick)]);
        new Table(flow, columns).Draw(rows);
        flow.Words(
            "Every feed move at the cutting rate, every rapid at the rapid rate times the override; stops not counted."
        );
    }

    static string Head(AirCutTime rate, Units units) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{rate.Cut:0.###} {units.Symbol()}/min cutting, {rate.Rapid:0.###} rapid at {rate.RapidOverride * 100:0.#} %"
        );
}
