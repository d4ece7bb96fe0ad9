using System.Globalization;
using System.Text;
using Handwheel.Jobs.Setups;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

public enum Align
{
    Left,
    Centre,
    Right,
}

/// <summary>
/// Draws on one page. Points (1/72 in) from the top left corner, y downwards. Characters that the typefaces lack and
/// the paper needs (⌀ ⚠) are drawn as shapes.
/// </summary>
public sealed class Ink(XGraphics page)
{
    const double DrawnSignWidth = 0.78;
    const int Diameter = 0x2300;
    const int Warning = 0x26A0;

    static readonly Dictionary<(Face, double), XFont> Fonts = [];

    public XGraphics Page { get; } = page;

    public static XColor Black => XColors.Black;

    /// <summary>Width in points.</summary>
    /// <exception cref="InputFault">A character that the typefaces do not have; it is never printed as a box.</exception>
    public static double Width(string text, Face face, double size)
    {
        var metrics = PaperFonts.Metrics(face);
        double ems = 0;
        foreach (var c in text.EnumerateRunes())
            ems +=
                IsDrawn(c) ? DrawnSignWidth
                : metrics.Has(c) ? metrics.Advance(c)
                : throw Missing(text, c);
        return ems * size;
    }

    /// <summary>Width in points for a picture on screen, where other typefaces stand in: a character that is not known counts one em.</summary>
    public static double Room(string text, Face face, double size)
    {
        var metrics = PaperFonts.Metrics(face);
        return text.EnumerateRunes().Sum(c => metrics.Has(c) ? metrics.Advance(c) : 1) * size;
    }

    /// <summary>
    /// Free text that people typed at the machine, which must be printed whatever it has: a character that the typefaces
    /// lack stands there by its number, <c>[U+8EF8]</c>.
    /// </summary>
    public static string Printable(string text) =>
        string.Concat(
            text.EnumerateRunes()
                .Select(c =>
                    IsDrawn(c)
                    || c.Value is '\n' or '\r' or '\t'
                    || PaperFonts.Metrics(Face.Mono).Has(c) && PaperFonts.Metrics(Face.Sans).Has(c)
                        ? c.ToString()
                        : string.Create(CultureInfo.InvariantCulture, $"[U+{c.Value:X4}]")
                )
        );

    static InputFault Missing(string text, Rune c) =>
        new(
            string.Create(
                CultureInfo.InvariantCulture,
                $"The text \"{text}\" has the character {(Rune.IsControl(c) ? ' ' : c)} (U+{c.Value:X4}), which the typefaces of the paper do not have; write it with letters, digits and signs of Latin, Greek or Cyrillic script."
            )
        );

    static bool IsDrawn(Rune c) => c.Value is Diameter or Warning;

    /// <summary>Writes one line; <paramref name="x"/> is its left end, middle or right end by <paramref name="align"/>.</summary>
    public void Text(
        string text,
        Face face,
        double size,
        double x,
        double baseline,
        Align align = Align.Left,
        XColor? colour = null
    )
    {
        var width = Width(text, face, size);
        x -= align switch
        {
            Align.Right => width,
            Align.Centre => width / 2,
            _ => 0,
        };
        var ink = colour ?? Black;
        var from = 0;
        for (var i = 0; i <= text.Length; i++)
        {
            if (i < text.Length && !IsDrawn(new Rune(char.IsSurrogate(text[i]) ? ' ' : text[i])))
                continue;
            if (i > from)
            {
                var run = text[from..i];
                Page.DrawString(run, FontOf(face, size), new XSolidBrush(ink), x, baseline);
                x += Width(run, face, size);
            }
            if (i < text.Length)
            {
                Sign(text[i], size, x, baseline, ink);
                x += DrawnSignWidth * size;
            }
            from = i + 1;
        }
    }

    static XFont FontOf(Face face, double size)
    {
        lock (Fonts)
        {
            if (!Fonts.TryGetValue((face, size), out var font))
                Fonts[(face, size)] = font = PaperFonts.Font(face, size);
            return font;
        }
    }

    void Sign(int sign, double size, double x, double baseline, XColor colour)
    {
        var pen = new XPen(colour, size * 0.075) { LineJoin = XLineJoin.Round };
        var middle = x + (DrawnSignWidth * size / 2);
        if (sign == Diameter)
        {
            var r = size * 0.27;
            var cy = baseline - (size * 0.34);
            Page.DrawEllipse(pen, middle - r, cy - r, 2 * r, 2 * r);
            Page.DrawLine(pen, middle - (r * 1.2), cy + (r * 1.2), middle + (r * 1.2), cy - (r * 1.2));
            return;
        }
        var half = size * 0.36;
        Page.DrawPolygon(
            pen,
            [
                new(middle, baseline - (size * 0.7)),
                new(middle + half, baseline - (size * 0.04)),
                new(middle - half, baseline - (size * 0.04)),
            ]
        );
        Page.DrawLine(pen, middle, baseline - (size * 0.46), middle, baseline - (size * 0.25));
        Page.DrawLine(pen, middle, baseline - (size * 0.16), middle, baseline - (size * 0.12));
    }

    /// <summary>The text, or as much of its beginning as fits with "…" after it.</summary>
    public static string Fit(string text, Face face, double size, double width)
    {
        text = text.ReplaceLineEndings(" ").Replace('\t', ' ');
        if (Width(text, face, size) <= width)
            return text;
        var end = text.Length;
        while (end > 0 && (char.IsHighSurrogate(text[end - 1]) || Width(text[..end] + "…", face, size) > width))
            end--;
        return text[..end].TrimEnd() + "…";
    }

    /// <summary>Breaks a text into lines no wider than <paramref name="width"/>; a word that is wider is broken where it must be.</summary>
    public static IReadOnlyList<string> Wrap(string text, Face face, double size, double width)
    {
        var lines = new List<string>();
        foreach (var paragraph in text.ReplaceLineEndings("\n").Split('\n'))
            WrapParagraph(paragraph.Replace('\t', ' '), face, size, width, lines);
        return lines;
    }

    static void WrapParagraph(string text, Face face, double size, double width, List<string> lines)
    {
        var line = "";
        foreach (var word in text.Split(' '))
        {
            var longer = line.Length == 0 ? word : line + " " + word;
            if (Width(longer, face, size) <= width)
            {
                line = longer;
                continue;
            }
            if (line.Length > 0)
                lines.Add(line);
            line = word;
            while (Width(line, face, size) > width && line.Length > 1)
            {
                var fits = line.Length - 1;
                while (fits > 1 && (char.IsLowSurrogate(line[fits]) || Width(line[..fits], face, size) > width))
                    fits--;
                lines.Add(line[..fits]);
                line = line[fits..];
            }
        }
        lines.Add(line);
    }

    public void Line(double x1, double y1, double x2, double y2, double weight = 0.6) =>
        Page.DrawLine(new XPen(Black, weight), x1, y1, x2, y2);

    public void Box(double x, double y, double width, double height, double weight = 0.8) =>
        Page.DrawRectangle(new XPen(Black, weight), x, y, width, height);

    public void Fill(double x, double y, double width, double height, XColor colour) =>
        Page.DrawRectangle(new XSolidBrush(colour), x, y, width, height);
}
