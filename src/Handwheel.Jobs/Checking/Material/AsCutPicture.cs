using Handwheel.Nc;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>The stock as the height maps leave it, thinned to what a picture can show.</summary>
static class AsCutPicture
{
    /// <summary>Points along a side of a blank: more than a printed picture can tell apart.</summary>
    const int PointsMost = 320;

    public static AsCut Of(Facts facts, bool followedToEnd)
    {
        if (facts.Table.Stock.Count == 0)
            return AsCut.NotShown("the setup describes no stock");
        if (facts.CutStock is not { Any: true } cut)
            return AsCut.NotShown(facts.CutStock?.WhyNot ?? "it was not followed");
        if (!followedToEnd)
            return AsCut.NotShown("the program was not followed to its end");
        double unit = facts.Setup.Units.Nanometres();
        return new AsCut([.. facts.Table.Stock.Zip(cut.Maps, (stock, map) => Blank(stock, map, unit))], null);
    }

    static AsCutBlank Blank(Solid stock, HeightMap map, double unit)
    {
        var (columns, rows, heights) = map.Thin(PointsMost);
        for (var i = 0; i < heights.Length; i++)
            heights[i] = (float)(heights[i] / unit);
        return new AsCutBlank
        {
            MinX = stock.MinX / unit,
            MaxX = stock.MaxX / unit,
            MinY = stock.MinY / unit,
            MaxY = stock.MaxY / unit,
            Bottom = stock.Bottom / unit,
            Height = (stock.Top - stock.Bottom) / unit,
            Columns = columns,
            Rows = rows,
            Heights = heights,
        };
    }
}
