namespace Handwheel.Web.Sheets.Pictures;

/// <summary>A point of a picture, in points (1/72 in) from its top left corner, y downwards.</summary>
public readonly record struct Spot(double X, double Y);

/// <summary>Something drawn. <see cref="Layer"/> says what it is, so that a page can show, hide or point at it.</summary>
public abstract record Mark(string Layer);

/// <summary>
/// One or more lines of the same look. Colours are <c>#rrggbb</c>; null is none. <paramref name="Dash"/> is on, off, … in points.
/// </summary>
public sealed record Strokes(
    string Layer,
    IReadOnlyList<IReadOnlyList<Spot>> Lines,
    string? Colour = "#000000",
    double Weight = 0.6,
    IReadOnlyList<double>? Dash = null,
    string? Fill = null,
    bool Closed = false
) : Mark(Layer);

/// <summary>A short text with its middle, left or right end at <paramref name="At"/> (baseline).</summary>
/// <param name="Halo">Cleared ground behind the text, so that it can be read over hatching.</param>
public sealed record Label(
    string Layer,
    string Text,
    Spot At,
    Face Face,
    double Size,
    Align Align = Align.Left,
    bool Halo = false,
    string Colour = "#000000"
) : Mark(Layer);

/// <summary>A rectangle of grey cells, as they come from a grid.</summary>
/// <param name="Low">Its lower left corner.</param>
/// <param name="High">Its upper right corner.</param>
/// <param name="Grey">Row by row from the top left corner; 0 is black.</param>
public sealed record Shades(string Layer, Spot Low, Spot High, int Columns, int Rows, ReadOnlyMemory<byte> Grey)
    : Mark(Layer)
{
    public byte[] ToPng() => GreyPng.Write(Columns, Rows, Grey.Span);
}

/// <summary>One drawing model for screen and paper.</summary>
public sealed record Picture(string Title, double Width, double Height, IReadOnlyList<Mark> Marks)
{
    public string ToSvg() => PictureSvg.Write(this);
}
