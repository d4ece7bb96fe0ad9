using Handwheel.Jobs.Checking;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

/// <summary>A finding's level as shape and word: stop an octagon, check an eye, note a line; and the shapes of the hazard words.</summary>
static class LevelMarks
{
    public static string Word(Level level) =>
        level switch
        {
            Level.Stop => "stop",
            Level.Check => "check",
            _ => "note",
        };

    public static Cell Cell(Level level) =>
        new(
            "",
            (ink, x, y, _, height) =>
            {
                var middle = y + (height / 2);
                Draw(ink, level, x + 8, middle, 7);
                ink.Text(Word(level), Face.SansBold, 9.5, x + 20, middle + 3.4);
            }
        );

    public static void Draw(Ink ink, Level level, double x, double y, double radius)
    {
        switch (level)
        {
            case Level.Stop:
                ink.Page.DrawPolygon(XBrushes.Black, Corners(x, y, radius, 8, Math.PI / 8), XFillMode.Winding);
                ink.Page.DrawLine(new XPen(XColors.White, radius * 0.3), x - (radius * 0.5), y, x + (radius * 0.5), y);
                break;
            case Level.Check:
                var pen = new XPen(XColors.Black, radius * 0.16);
                ink.Page.DrawBezier(
                    pen,
                    x - radius,
                    y,
                    x - (radius * 0.4),
                    y - (radius * 0.9),
                    x + (radius * 0.4),
                    y - (radius * 0.9),
                    x + radius,
                    y
                );
                ink.Page.DrawBezier(
                    pen,
                    x - radius,
                    y,
                    x - (radius * 0.4),
                    y + (radius * 0.9),
                    x + (radius * 0.4),
                    y + (radius * 0.9),
                    x + radius,
                    y
                );
                ink.Page.DrawEllipse(
                    XBrushes.Black,
                    x - (radius * 0.3),
                    y - (radius * 0.3),
                    radius * 0.6,
                    radius * 0.6
                );
                break;
            default:
                ink.Page.DrawLine(new XPen(XColors.Black, radius * 0.3), x - radius, y, x + radius, y);
                break;
        }
    }

    /// <summary>The shape of WARNING (triangle), CAUTION (diamond) or NOTICE (disc), each with its bar and point.</summary>
    public static void Hazard(Ink ink, string word, double x, double y, double radius)
    {
        if (word == "NOTICE")
            ink.Page.DrawEllipse(XBrushes.Black, x - radius, y - radius, 2 * radius, 2 * radius);
        else
        {
            var corners =
                word == "CAUTION"
                    ? Corners(x, y, radius * 1.15, 4, 0)
                    : Corners(x, y + (radius * 0.2), radius * 1.2, 3, -Math.PI / 2);
            ink.Page.DrawPolygon(XBrushes.Black, corners, XFillMode.Winding);
        }
        var pen = new XPen(XColors.White, radius * 0.24);
        ink.Page.DrawLine(pen, x, y - (radius * 0.5), x, y + (radius * 0.2));
        ink.Page.DrawLine(pen, x, y + (radius * 0.38), x, y + (radius * 0.6));
    }

    static XPoint[] Corners(double x, double y, double radius, int corners, double turn) =>
        [
            .. Enumerable
                .Range(0, corners)
                .Select(i => turn + (2 * Math.PI * i / corners))
                .Select(a => new XPoint(x + (radius * Math.Cos(a)), y + (radius * Math.Sin(a)))),
        ];
}
