using System.Globalization;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets.Pictures;

static class PictureInk
{
    /// <summary>Draws the picture on paper with its top left corner at <paramref name="x"/>, <paramref name="y"/>.</summary>
    public static void Draw(this Picture picture, Ink ink, double x, double y)
    {
        foreach (var mark in picture.Marks)
        {
            if (mark is Strokes strokes)
                Lines(ink, strokes, x, y);
            else if (mark is Shades shades)
                Image(ink, shades, x, y);
            else if (mark is Label label)
                Text(ink, label, x, y);
        }
    }

    static void Lines(Ink ink, Strokes strokes, double x, double y)
    {
        var brush = strokes.Fill is { } fill ? new XSolidBrush(Colour(fill)) : null;
        var pen = strokes.Colour is { } colour
            ? new XPen(Colour(colour), strokes.Weight) { LineJoin = XLineJoin.Round }
            : null;
        if (pen is not null && strokes.Dash is { } dash)
            pen.DashPattern = [.. dash.Select(d => d / strokes.Weight)];
        foreach (var line in strokes.Lines.Where(l => l.Count > 1))
        {
            XPoint[] points = [.. line.Select(s => new XPoint(s.X + x, s.Y + y))];
            if (brush is not null)
                ink.Page.DrawPolygon(brush, points, XFillMode.Winding);
            if (pen is not null && strokes.Closed)
                ink.Page.DrawPolygon(pen, points);
            else if (pen is not null)
                ink.Page.DrawLines(pen, points);
        }
    }

    static void Image(Ink ink, Shades shades, double x, double y)
    {
        using var png = new MemoryStream(shades.ToPng());
        using var image = XImage.FromStream(png);
        // each point is one of the grid: nothing in between (and PDFsharp writes the wish for it in a way that is no PDF)
        image.Interpolate = false;
        var (low, high) = (shades.Low, shades.High);
        ink.Page.DrawImage(image, low.X + x, high.Y + y, high.X - low.X, low.Y - high.Y);
    }

    static void Text(Ink ink, Label label, double x, double y)
    {
        var at = label.At;
        if (label.Halo)
        {
            var width = Ink.Width(label.Text, label.Face, label.Size);
            var left =
                at.X
                + x
                - (
                    label.Align == Align.Centre ? width / 2
                    : label.Align == Align.Right ? width
                    : 0
                );
            ink.Fill(left - 1.5, at.Y + y - (label.Size * 0.82), width + 3, label.Size * 1.08, XColors.White);
        }
        ink.Text(label.Text, label.Face, label.Size, at.X + x, at.Y + y, label.Align, Colour(label.Colour));
    }

    static XColor Colour(string hex) =>
        XColor.FromArgb(int.Parse("ff" + hex[1..], NumberStyles.HexNumber, CultureInfo.InvariantCulture));
}
