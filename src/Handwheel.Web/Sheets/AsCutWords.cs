using Handwheel.Nc;

namespace Handwheel.Web.Sheets;

/// <summary>What screen and paper say beside the picture of the stock as cut.</summary>
public static class AsCutWords
{
    public static string Legend(Units units) =>
        $"Shaded: what the program leaves of the stock by the computed path, true to the tools' shapes on a grid. Lines: steps. Figures: Z of a flat from part zero, {Figures.Word(units)}. White: nothing is left. White number on black: where the tool passes nearest to a piece of holding, dashed the tool's outline there.";
}
