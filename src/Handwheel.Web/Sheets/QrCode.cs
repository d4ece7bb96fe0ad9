using PdfSharp.Drawing;
using QRCoder;

namespace Handwheel.Web.Sheets;

static class QrCode
{
    /// <summary>Draws the code as one filled path, its quiet zone of 4 modules inside <paramref name="side"/>.</summary>
    public static void Draw(Ink ink, string text, double x, double y, double side)
    {
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var rows = code.ModuleMatrix;
        var module = side / rows.Count;
        var path = new XGraphicsPath { FillMode = XFillMode.Winding };
        for (var row = 0; row < rows.Count; row++)
        {
            for (var from = 0; from < rows.Count; from++)
            {
                var to = from;
                while (to < rows.Count && rows[row][to])
                    to++;
                if (to > from)
                    path.AddRectangle(x + (from * module), y + (row * module), (to - from) * module, module);
                from = to;
            }
        }
        ink.Page.DrawPath(XBrushes.Black, path);
    }
}
