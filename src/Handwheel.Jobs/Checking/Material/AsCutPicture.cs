using Handwheel.Nc;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>The stock as the height maps leave it, thinned to what a picture can show.</summary>
static class AsCutPicture
{
    /// <summary>Points along a side of a blank: more than a printed picture can tell apart.</summary>
    const int PointsMost = 320;

    /// <summary>Cells along a side of a blank that a window turns at ease.</summary>
    const int CellsMost = 256;

    public static AsCut Of(Facts facts, bool followedToEnd)
    {
        if (facts.Table.Stock.Count == 0)
            return AsCut.NotShown("the setup describes no stock");
        if (facts.CutStock is not { Any: true } cut)
            return AsCut.NotShown(facts.CutStock?.WhyNot ?? "it was not followed");
        if (!followedToEnd)
            return AsCut.NotShown("the program was not followed to its end");
        double unit = facts.Setup.Units.Nanometres();
        var blanks = facts.Table.Stock.Zip(cut.Maps).ToList();
        return new AsCut([.. blanks.Select(b => Blank(b.First, b.Second.Thin(PointsMost, highest: false), unit))], null)
        {
            NowhereLower = [.. blanks.Select(b => Blank(b.First, b.Second.Thin(CellsMost, highest: true), unit))],
        };
    }

    static AsCutBlank Blank(Solid stock, (int Columns, int Rows, float[] Heights) grid, double unit)
    {
        var (columns, rows, heights) = grid;
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
