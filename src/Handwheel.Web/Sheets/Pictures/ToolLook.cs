namespace Handwheel.Web.Sheets.Pictures;

/// <summary>
/// How a tool is told apart: its number first, then a colour of the Okabe–Ito series (Okabe and Ito, "Color Universal
/// Design", 2008; its yellow is left out, which white paper swallows), then the dash of its rapids.
/// </summary>
public sealed record ToolLook(string Colour, IReadOnlyList<double> Dash)
{
    static readonly string[] Series = ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#56b4e9", "#000000"];

    static readonly double[][] Dashes =
    [
        [3, 2],
        [1, 2],
        [6, 2],
        [6, 2, 1, 2],
        [3, 4],
    ];

    /// <param name="place">Place of the tool in the order of the setup, from 0.</param>
    public static ToolLook Of(int place) => new(Series[place % Series.Length], Dashes[place % Dashes.Length]);

    /// <summary>Looks by tool number, in the order in which the tools come in.</summary>
    public static IReadOnlyDictionary<int, ToolLook> For(IEnumerable<int> tools) =>
        tools.Distinct().Select((tool, place) => (tool, place)).ToDictionary(t => t.tool, t => Of(t.place));
}
