using System.Globalization;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Handwheel.Web.Sheets;

public enum PaperSize
{
    Letter,
    A4,
}

/// <summary>What stands at the edge of every page.</summary>
/// <param name="Head">Top left: what this paper is about.</param>
/// <param name="Mark">Top right: units and the like, short.</param>
/// <param name="Foot">Bottom left, one line each: where it comes from.</param>
/// <param name="Code">What the QR code holds.</param>
public sealed record PageEdge(string Head, string Mark, IReadOnlyList<string> Foot, string Code);

/// <summary>Lays headings, text, tables and boxes down a page and goes on to the next one. Points, from the top left corner.</summary>
public sealed class Flow : IDisposable
{
    const double Margin = 36;
    const double FootHeight = 62;

    /// <summary>
    /// Points at which capitals and digits of the typefaces (0.698 em high) are seen under 16 minutes of arc from one metre: 4.65 mm, the
    /// least height for characters that must be read (ISO 9241-303; the figure from memory).
    /// </summary>
    public const double FromAMetre = 19;
    readonly PaperSize _paper;
    readonly PageEdge _edge;
    readonly PdfDocument _document = new();
    readonly List<(int Page, Action<Ink> Draw)> _later = [];
    Ink? _ink;

    public Flow(PaperSize paper, PageEdge edge)
    {
        (_paper, _edge) = (paper, edge);
        NewPage();
    }

    public double Left => Margin;

    public double Width => _document.Pages[0].Width.Point - (2 * Margin);

    public double Right => Left + Width;

    public double Bottom => _document.Pages[0].Height.Point - Margin - FootHeight;

    /// <summary>Number of the page that is being written, from 1.</summary>
    public int Page => _document.PageCount;

    /// <summary>Where the next thing goes.</summary>
    public double Y { get; set; }

    public Ink Ink => _ink ?? throw new InvalidOperationException("The pages are finished.");

    public bool AtTop => Y <= Margin + 16;

    public void NewPage()
    {
        _ink?.Page.Dispose();
        var page = _document.AddPage();
        page.Size = _paper == PaperSize.A4 ? PdfSharp.PageSize.A4 : PdfSharp.PageSize.Letter;
        _ink = new Ink(XGraphics.FromPdfPage(page));
        Y = Margin;
        if (_document.PageCount > 1)
            RunningHead();
    }

    void RunningHead()
    {
        var room = Width - Ink.Width(_edge.Mark, Face.SansBold, 9) - 12;
        Ink.Text(Ink.Fit(_edge.Head, Face.SansBold, 9, room), Face.SansBold, 9, Left, Y + 9);
        Ink.Text(_edge.Mark, Face.SansBold, 9, Right, Y + 9, Align.Right);
        Ink.Line(Left, Y + 14, Right, Y + 14, 1);
        Y += 16;
    }

    /// <summary>Goes on to the next page when less than <paramref name="height"/> is left on this one.</summary>
    public void Keep(double height)
    {
        if (Y + height > Bottom && !AtTop)
            NewPage();
    }

    public void Space(double height) => Y += height;

    /// <summary>Draws on this page when all are laid out: what names a page that is not there yet.</summary>
    public void Later(Action<Ink> draw) => _later.Add((_document.PageCount - 1, draw));

    /// <summary>A heading with a rule above it; stays with at least <paramref name="with"/> points of what follows.</summary>
    public void Heading(string text, double with = 40, double size = 13)
    {
        Keep(size + 11 + with);
        Space(AtTop ? 4 : 7);
        Ink.Line(Left, Y, Right, Y, 1.6);
        Ink.Text(text, Face.SansBold, size, Left, Y + (size * 0.88) + 3.5);
        Y += size + 8;
    }

    public void Words(string text, Face face = Face.Sans, double size = 9.5, double indent = 0)
    {
        foreach (var line in Ink.Wrap(text, face, size, Width - indent))
        {
            Keep(size * 1.35);
            Ink.Text(line, face, size, Left + indent, Y + size);
            Y += size * 1.35;
        }
    }

    /// <summary>A tick box with its text.</summary>
    public void Tick(string text, double size = 10)
    {
        var lines = Ink.Wrap(text, Face.Sans, size, Width - 20);
        Keep(lines.Count * size * 1.3);
        Ink.Box(Left + 1, Y + 0.5, 10, 10, 1);
        foreach (var line in lines)
        {
            Ink.Text(line, Face.Sans, size, Left + 19, Y + size - 0.5);
            Y += size * 1.3;
        }
        Y += 3;
    }

    /// <summary>Writes the edges of all pages and gives the file. <paramref name="extend"/> may add objects to it.</summary>
    public byte[] Finish(PdfFacts facts, Action<PdfDocument>? extend = null)
    {
        _ink?.Page.Dispose();
        _ink = null;
        var code = new QrCode(_edge.Code);
        for (var i = 0; i < _document.PageCount; i++)
            Foot(i, code);
        return PdfBytes.Write(_document, facts, extend);
    }

    void Foot(int index, QrCode code)
    {
        using var page = XGraphics.FromPdfPage(_document.Pages[index], XGraphicsPdfPageOptions.Append);
        var ink = new Ink(page);
        foreach (var (_, draw) in _later.Where(l => l.Page == index))
            draw(ink);
        var top = Bottom + 8;
        ink.Line(Left, top, Right, top, 0.6);
        code.Draw(ink, Right - 52, top + 4, 52);
        var number = string.Create(CultureInfo.InvariantCulture, $"Page {index + 1} of {_document.PageCount}");
        ink.Text(number, Face.SansBold, 10, Left, top + 14);
        var y = top + 26;
        foreach (var line in _edge.Foot)
        {
            ink.Text(Ink.Fit(line, Face.Sans, 7.5, Width - 60), Face.Sans, 7.5, Left, y);
            y += 10;
        }
    }

    public void Dispose()
    {
        _ink?.Page.Dispose();
        _document.Dispose();
    }
}
