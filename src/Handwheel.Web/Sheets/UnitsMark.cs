using Handwheel.Nc;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

/// <summary>INCH or MM in the top right corner, so large that it is read before anything else.</summary>
static class UnitsMark
{
    /// <returns>The room that is left beside it, points.</returns>
    public static double Draw(Flow flow, Units units)
    {
        const double size = 34;
        var (ink, text) = (flow.Ink, units == Units.Inch ? "INCH" : "MM");
        var width = Ink.Width(text, Face.SansBold, size) + 22;
        ink.Fill(flow.Right - width, flow.Y, width, size + 12, XColors.Black);
        ink.Text(text, Face.SansBold, size, flow.Right - (width / 2), flow.Y + 35, Align.Centre, XColors.White);
        return flow.Width - width - 12;
    }
}
