using System.Reflection;
using PdfSharp.Drawing;
using PdfSharp.Fonts;
using PdfSharp.Pdf;

namespace Handwheel.Web.Sheets;

/// <summary>Sans for words, Mono (dotted zero) for every value that a control shows.</summary>
public enum Face
{
    Sans,
    SansBold,
    Mono,
    MonoBold,
}

/// <summary>The typefaces of the paper, from the files that the app carries; no font of the machine it runs on is ever used.</summary>
public static class PaperFonts
{
    static readonly string[] Files =
    [
        "IBMPlexSans-Regular",
        "IBMPlexSans-SemiBold",
        "IBMPlexMono-Regular",
        "IBMPlexMono-SemiBold",
    ];

    static readonly TypeFace[] Faces = [.. Files.Select(f => new TypeFace(Resource($"fonts/{f}.ttf")))];

    static PaperFonts() => GlobalFontSettings.FontResolver = new Resolver();

    public static TypeFace Metrics(Face face) => Faces[(int)face];

    /// <param name="size">Points.</param>
    public static XFont Font(Face face, double size) =>
        new(Files[(int)face], size, XFontStyleEx.Regular, new XPdfFontOptions(PdfFontEncoding.Unicode));

    static byte[] Resource(string name)
    {
        using var stream =
            Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The app was built without {name}.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    sealed class Resolver : IFontResolver
    {
        public byte[]? GetFont(string faceName) => Faces[Array.IndexOf(Files, faceName)].File;

        public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) =>
            Array.IndexOf(Files, familyName) >= 0 ? new FontResolverInfo(familyName) : null;
    }
}
