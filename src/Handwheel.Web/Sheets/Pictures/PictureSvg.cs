using System.Globalization;
using System.Net;
using System.Text;

namespace Handwheel.Web.Sheets.Pictures;

static class PictureSvg
{
    /// <summary>The picture as an <c>svg</c> element that scales with its place; layers are <c>g</c> elements by class.</summary>
    public static string Write(Picture picture)
    {
        var svg = new StringBuilder();
        Add(
            svg,
            $"<svg class=\"part-view\" xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {picture.Width:0.##} {picture.Height:0.##}\" role=\"img\">"
        );
        Add(svg, $"<title>{Escape(picture.Title)}</title>");
        string? layer = null;
        foreach (var mark in picture.Marks)
        {
            if (mark.Layer != layer)
            {
                if (layer is not null)
                    svg.Append("</g>");
                layer = mark.Layer;
                Add(svg, $"<g class=\"{Escape(layer)}\">");
            }
            if (mark is Strokes strokes)
                Lines(svg, strokes);
            else if (mark is Shades shades)
                Image(svg, shades);
            else if (mark is Label label)
                Text(svg, label);
        }
        if (layer is not null)
            svg.Append("</g>");
        return svg.Append("</svg>").ToString();
    }

    static void Lines(StringBuilder svg, Strokes strokes)
    {
        svg.Append("<path d=\"");
        foreach (var line in strokes.Lines)
        {
            for (var i = 0; i < line.Count; i++)
                Add(svg, $"{(i == 0 ? 'M' : 'L')}{line[i].X:0.##} {line[i].Y:0.##}");
            if (strokes.Closed)
                svg.Append('Z');
        }
        Add(
            svg,
            $"\" fill=\"{strokes.Fill ?? "none"}\" stroke=\"{strokes.Colour ?? "none"}\" stroke-width=\"{strokes.Weight:0.##}\""
        );
        if (strokes.Dash is { } dash)
            Add(
                svg,
                $" stroke-dasharray=\"{string.Join(' ', dash.Select(d => d.ToString("0.##", CultureInfo.InvariantCulture)))}\""
            );
        svg.Append(" stroke-linejoin=\"round\"/>");
    }

    static void Image(StringBuilder svg, Shades shades)
    {
        var (low, high) = (shades.Low, shades.High);
        Add(svg, $"<image x=\"{low.X:0.##}\" y=\"{high.Y:0.##}\" width=\"{high.X - low.X:0.##}\" ");
        Add(svg, $"height=\"{low.Y - high.Y:0.##}\" preserveAspectRatio=\"none\" ");
        Add(svg, $"href=\"data:image/png;base64,{Convert.ToBase64String(shades.ToPng())}\"/>");
    }

    static void Text(StringBuilder svg, Label label)
    {
        var anchor = label.Align switch
        {
            Align.Centre => "middle",
            Align.Right => "end",
            _ => "start",
        };
        var family = label.Face is Face.Mono or Face.MonoBold ? "IBM Plex Mono" : "IBM Plex Sans";
        var weight = label.Face is Face.MonoBold or Face.SansBold ? 600 : 400;
        Add(
            svg,
            $"<text x=\"{label.At.X:0.##}\" y=\"{label.At.Y:0.##}\" font-family=\"{family}\" font-weight=\"{weight}\" "
        );
        Add(svg, $"font-size=\"{label.Size:0.##}\" text-anchor=\"{anchor}\" fill=\"{label.Colour}\"");
        if (label.Halo)
            svg.Append(" stroke=\"#ffffff\" stroke-width=\"2.5\" paint-order=\"stroke\"");
        Add(svg, $">{Escape(label.Text)}</text>");
    }

    static string Escape(string text) => WebUtility.HtmlEncode(new string([.. text.Where(c => !char.IsControl(c))]));

    static void Add(StringBuilder svg, FormattableString text) =>
        svg.Append(text.ToString(CultureInfo.InvariantCulture));
}
