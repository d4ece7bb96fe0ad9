using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;
using PdfSharp.Pdf;
using PdfSharp.Pdf.Advanced;
using PdfSharp.Pdf.IO;

namespace Handwheel.Web.Sheets;

/// <summary>What the file says of itself. The same pages with the same facts give the same bytes.</summary>
/// <param name="Created">Written as the file's date, in its own offset from UTC.</param>
public sealed record PdfFacts(string Title, DateTimeOffset Created);

/// <summary>
/// Writes a PDF (ISO 32000-1) object by object in the order of their numbers: no chance identifiers, no date but the one
/// given, deflate streams with their checksum.
/// </summary>
public static partial class PdfBytes
{
    /// <summary>Reads what the drawing library saved, lets <paramref name="extend"/> add objects to it, and writes it anew.</summary>
    public static byte[] Write(PdfDocument drawn, PdfFacts facts, Action<PdfDocument>? extend = null)
    {
        using var saved = new MemoryStream();
        // every stream is packed below, once
        drawn.Options.NoCompression = true;
        drawn.Options.CompressContentStreams = false;
        drawn.Save(saved, closeStream: false);
        saved.Position = 0;
        using var document = PdfReader.Open(saved, PdfDocumentOpenMode.Modify);
        document.Internals.Catalog.Elements.Remove("/Metadata");
        document.Internals.Catalog.Elements.SetString("/Lang", "en");
        extend?.Invoke(document);
        return Serialise(document, facts);
    }

    static byte[] Serialise(PdfDocument document, PdfFacts facts)
    {
        using var file = new Output();
        file.Write("%PDF-1.7\n%\u00e2\u00e3\u00cf\u00d3\n");
        var offsets = new SortedDictionary<int, long>();
        var names = new Dictionary<string, string>(StringComparer.Ordinal);
        var info = document.Internals.GetAllObjects().Max(o => o.Reference!.ObjectNumber) + 1;
        foreach (var target in Reachable(document))
        {
            var number = target.Reference!.ObjectNumber;
            offsets[number] = file.Length;
            file.Put($"{number} 0 obj\n");
            Value(file, target, names);
            file.Write("\nendobj\n");
        }
        offsets[info] = file.Length;
        file.Put($"{info} 0 obj\n");
        file.Put($"<</Title {Text(facts.Title)}/Producer(Handwheel)/CreationDate({Date(facts.Created)})>>\nendobj\n");
        Trailer(file, offsets, document.Internals.Catalog.Reference!.ObjectNumber, info);
        return file.ToArray();
    }

    static IEnumerable<PdfObject> Reachable(PdfDocument document) =>
        document
            .Internals.GetClosure(document.Internals.Catalog)
            .Append(document.Internals.Catalog)
            .DistinctBy(o => o.Reference!.ObjectNumber)
            .OrderBy(o => o.Reference!.ObjectNumber);

    static void Trailer(Output file, SortedDictionary<int, long> offsets, int root, int info)
    {
        var id = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(file.ToArray()))[..32];
        var start = file.Length;
        file.Write("xref\n0 1\n0000000000 65535 f \n");
        foreach (var (number, offset) in offsets)
            file.Put($"{number} 1\n{offset:D10} 00000 n \n");
        file.Put($"trailer\n<</Size {info + 1}/Root {root} 0 R/Info {info} 0 R/ID[<{id}><{id}>]>>\n");
        file.Put($"startxref\n{start}\n%%EOF\n");
    }

    static void Value(Output file, PdfItem item, Dictionary<string, string> names)
    {
        switch (item)
        {
            case PdfReference reference:
                file.Put($"{reference.ObjectNumber} 0 R");
                break;
            case PdfDictionary dictionary:
                Dictionary(file, dictionary, names);
                break;
            case PdfArray array:
                file.Write("[");
                for (var i = 0; i < array.Elements.Count; i++)
                {
                    if (i > 0)
                        file.Write(" ");
                    Value(file, array.Elements[i], names);
                }
                file.Write("]");
                break;
            case PdfName name:
                file.Write(Escaped(Name(name.Value, names)));
                break;
            case PdfString text:
                file.Write(Text(text.Value));
                break;
            default:
                file.Write(item.ToString()!);
                break;
        }
    }

    static void Dictionary(Output file, PdfDictionary dictionary, Dictionary<string, string> names)
    {
        var bytes = dictionary.Stream is null ? null : Deflate(dictionary);
        file.Write("<<");
        foreach (var (key, value) in dictionary.Elements)
        {
            if (value is null || (bytes is not null && key is "/Length" or "/Filter" or "/DecodeParms"))
                continue;
            file.Write(Escaped(key) + " ");
            Value(file, value, names);
        }
        if (bytes is not null)
            file.Put($"/Length {bytes.Length}/Filter/FlateDecode");
        file.Write(">>");
        if (bytes is null)
            return;
        file.Write("\nstream\n");
        file.Write(bytes);
        file.Write("\nendstream");
    }

    static byte[] Deflate(PdfDictionary dictionary)
    {
        using var packed = new MemoryStream();
        using (var zlib = new ZLibStream(packed, CompressionLevel.Optimal, leaveOpen: true))
            zlib.Write(dictionary.Stream!.UnfilteredValue);
        return packed.ToArray();
    }

    /// <summary>The six letters before the name of a font subset are chosen by chance; here they count.</summary>
    static string Name(string name, Dictionary<string, string> names)
    {
        var subset = SubsetName().Match(name);
        if (!subset.Success)
            return name;
        if (!names.TryGetValue(subset.Groups["chance"].Value, out var prefix))
            names[subset.Groups["chance"].Value] = prefix = "HWAAA" + (char)('A' + names.Count);
        return "/" + prefix + "+" + subset.Groups["font"].Value;
    }

    /// <summary>A name with its irregular characters written as <c>#xx</c> (ISO 32000-1, 7.3.5).</summary>
    static string Escaped(string name) =>
        "/"
        + string.Concat(
            name[1..]
                .Select(c =>
                    c
                        is > ' '
                            and <= '~'
                            and not ('#' or '/' or '%' or '(' or ')' or '<' or '>' or '[' or ']' or '{' or '}')
                        ? c.ToString()
                        : "#" + ((int)c).ToString("X2", CultureInfo.InvariantCulture)
                )
        );

    internal static string Text(string text) =>
        text.All(c => c is >= ' ' and <= '~')
            ? "(" + text.Replace("\\", "\\\\").Replace("(", "\\(").Replace(")", "\\)") + ")"
            : "<FEFF" + Convert.ToHexString(Encoding.BigEndianUnicode.GetBytes(text)) + ">";

    internal static string Date(DateTimeOffset when)
    {
        var offset = when.Offset;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"D:{when:yyyyMMddHHmmss}{(offset < TimeSpan.Zero ? '-' : '+')}{Math.Abs(offset.Hours):D2}'{Math.Abs(offset.Minutes):D2}'"
        );
    }

    [GeneratedRegex("^/(?<chance>[A-Z]{6})\\+(?<font>.+)$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex SubsetName();

    sealed class Output : MemoryStream
    {
        public void Put(FormattableString text) => Write(text.ToString(CultureInfo.InvariantCulture));

        public void Write(string text) => Write(Encoding.Latin1.GetBytes(text));
    }
}
