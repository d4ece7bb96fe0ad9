using PdfSharp.Drawing;
using QRCoder;

namespace Handwheel.Web.Sheets;

/// <summary>A QR code, worked out once for all the pages that it stands on.</summary>
sealed class QrCode
{
    readonly int _modules;
    readonly List<(int Row, int From, int To)> _dark = [];

    public QrCode(string text)
    {
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var rows = code.ModuleMatrix;
        _modules = rows.Count;
        for (var row = 0; row < _modules; row++)
        {
            for (var from = 0; from < _modules; from++)
            {
                var to = from;
                while (to < _modules && rows[row][to])
                    to++;
                if (to > from)
                    _dark.Add((row, from, to));
                from = to;
            }
        }
    }

    /// <summary>Draws the code as one filled path, its quiet zone of 4 modules inside <paramref name="side"/>.</summary>
    public void Draw(Ink ink, double x, double y, double side)
    {
        var module = side / _modules;
        var path = new XGraphicsPath { FillMode = XFillMode.Winding };
        foreach (var (row, from, to) in _dark)
            path.AddRectangle(x + (from * module), y + (row * module), (to - from) * module, module);
        ink.Page.DrawPath(XBrushes.Black, path);
    }
}
