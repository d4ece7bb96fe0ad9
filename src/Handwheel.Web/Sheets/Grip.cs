using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Sheets;

/// <summary>
/// How deep a blank stands in what grips it and how far it stands proud, from the shapes that the setup gives; and whether what it is set
/// on is among them.
/// </summary>
static class Grip
{
    /// <summary>Nearer than this a side touches, mm.</summary>
    const double Touching = 0.05;

    /// <summary>To go on after the blank's own words; empty where nothing grips it from the side and nothing is said of what it is set on.</summary>
    public static string Of(Scene scene, Setup setup, Stock stock)
    {
        if (Placed(scene, setup, stock) is not { } blank)
            return "";
        var near = setup.Units == Units.Inch ? Touching / 25.4 : Touching;
        string Said(double length) =>
            Figures.Short(Length.From((decimal)Math.Round(length, 6), setup.Units), setup.Units);
        var jaws = scene.Holding.Where(h => Grips(h, blank, near)).ToList();
        var words = "";
        if (stock.Parallels.Length > 0 && !scene.Holding.Any(h => Carries(h, blank, near)))
            words += " (not drawn)";
        if (jaws.Count == 0)
            return words;
        var (deep, proud) = (jaws.Min(j => j.Max.Z) - blank.Min.Z, blank.Max.Z - jaws.Max(j => j.Max.Z));
        return words + $"; gripped {Said(deep)} deep, {Said(proud)} proud";
    }

    /// <summary>The scene has the blanks whose place is known, in the setup's order.</summary>
    static Solid? Placed(Scene scene, Setup setup, Stock stock)
    {
        if (scene.Stock.Count != setup.Stock.Count)
            return null;
        var place = setup.Stock.ToList().IndexOf(stock);
        return place < 0 ? null : scene.Stock[place];
    }

    /// <summary>It touches a side of the blank and ends between its underside and its top.</summary>
    static bool Grips(Solid held, Solid blank, double near)
    {
        var (x, y) = (
            Between(held.Min.X, held.Max.X, blank.Min.X, blank.Max.X),
            Between(held.Min.Y, held.Max.Y, blank.Min.Y, blank.Max.Y)
        );
        return held.Max.Z > blank.Min.Z + near
            && held.Max.Z < blank.Max.Z - near
            && held.Min.Z < held.Max.Z
            && Math.Abs(Math.Max(x, y)) <= near
            && Math.Min(x, y) < 0;
    }

    /// <summary>The underside of the blank lies on it.</summary>
    static bool Carries(Solid held, Solid blank, double near) =>
        Math.Abs(held.Max.Z - blank.Min.Z) <= near
        && Between(held.Min.X, held.Max.X, blank.Min.X, blank.Max.X) < 0
        && Between(held.Min.Y, held.Max.Y, blank.Min.Y, blank.Max.Y) < 0;

    /// <summary>The gap between two stretches; below 0: how far they lie on each other.</summary>
    static double Between(double low, double high, double otherLow, double otherHigh) =>
        Math.Max(low, otherLow) - Math.Min(high, otherHigh);
}
