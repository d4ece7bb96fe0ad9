using Handwheel.Nc;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>What each tool took off, in the setup's units; nothing where the material was not followed to the end.</summary>
static class MaterialFigures
{
    const int Decimals = 4;

    public static IReadOnlyList<ToolMaterial> Of(Facts facts) =>
        facts.CutStock is { Any: true } cut
            ? [.. cut.Cuttings.Where(c => c.Volume > 0).Select(c => Out(c, facts.Setup.Units))]
            : [];

    static ToolMaterial Out(ToolCutting cutting, Units units)
    {
        var unit = (double)units.Nanometres() / 1e6;
        var removed = cutting.Volume / (unit * unit * unit);
        return new ToolMaterial
        {
            Tool = cutting.Tool,
            Removed = Round(removed),
            Depth = Round(cutting.Depth / 1e6 / unit),
            Width = cutting.Width is { } width ? Round(width / 1e6 / unit) : null,
            RemovalRate = cutting.TimeUnknown || cutting.Minutes <= 0 ? null : Round(removed / cutting.Minutes),
        };
    }

    static decimal Round(double value) => decimal.Round((decimal)value, Decimals, MidpointRounding.AwayFromZero);
}
