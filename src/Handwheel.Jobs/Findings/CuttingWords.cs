using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>How the three rules that look into the cutting table speak of speeds, feeds and tools.</summary>
readonly struct CuttingWords(Facts facts)
{
    /// <summary>What rounding S and F to the digits of a program may do; above it is a difference.</summary>
    public const double Rounding = 0.005;

    const double NanometresInFoot = 304_800_000;
    const double NanometresInMetre = 1_000_000_000;

    readonly bool inch = facts.Setup.Units == Units.Inch;

    /// <summary>The tool is used, moves at feed, and is neither a probe nor unlisted.</summary>
    public static bool MayCut(Facts facts, ToolTotals used) =>
        used.Uses > 0
        && (used.CutPicometres > 0 || used.CutUnknown)
        && facts.Listed(used.Tool) is { Kind: not "probe" };

    /// <summary>What is cut with what: <c>aluminium, end mill, carbide</c>.</summary>
    public string What(Tool tool)
    {
        var edges = facts.Cutting.EdgesOf(tool);
        var kind = tool.Kind.Trim();
        return $"{facts.Cutting.Material}, {kind}{(edges.Count > 0 ? ", " + string.Join(" or ", edges) : "")}";
    }

    public string Speed(double nmPerMinute) =>
        inch
            ? Rounded(nmPerMinute / NanometresInFoot, 0) + " ft/min"
            : Rounded(nmPerMinute / NanometresInMetre, 1) + " m/min";

    public string Speeds(CuttingRange range) => Span(range, Speed);

    public string Feed(double nm) =>
        Rounded(nm / (double)facts.Setup.Units.Nanometres(), inch ? 5 : 4) + " " + facts.Setup.Units.Symbol();

    public string Feeds(CuttingRange range) => Span(range, Feed);

    static string Span(CuttingRange range, Func<double, string> say) =>
        (range.Least, range.Most) switch
        {
            ({ } least, { } most) => Said.Kept($"the table has {say(least)} to {say(most)}"),
            ({ } least, null) => Said.Kept($"the table has {say(least)} or more"),
            (_, { } most) => Said.Kept($"the table has {say(most)} or less"),
            _ => Said.Kept("the table has no figure"),
        };

    static string Rounded(double value, int decimals) =>
        Figures.Plain(decimal.Round((decimal)value, decimals, MidpointRounding.AwayFromZero));
}
