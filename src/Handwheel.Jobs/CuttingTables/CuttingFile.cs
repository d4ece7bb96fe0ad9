using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using System.Text.Encodings.Web;
using System.Text.Json;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.CuttingTables;

/// <summary>The file <c>handwheel-cutting/1</c>: strict when read, canonical when written.</summary>
public static class CuttingFile
{
    public const string Format = "handwheel-cutting/1";

    /// <summary>In the order of <see cref="CuttingFigure"/>.</summary>
    public static readonly IReadOnlyList<string> Figures =
    [
        "cuttingSpeed",
        "feedPerTooth",
        "feedPerRevolution",
        "depthOfCut",
    ];

    /// <summary>In the order of <see cref="SourceKind"/>.</summary>
    public static readonly IReadOnlyList<string> SourceKinds = ["published", "commonPractice", "shopsOwn"];

    /// <exception cref="InputFault">The text is not a cutting table; the message names file, line, path, what was found and what was expected.</exception>
    public static CuttingTable Read(byte[] json, string fileName)
    {
        var fields = new JsonFields(JsonText.Read(json, fileName), fileName);
        fields.OneOfRequired("format", Format);
        var table = new CuttingTable
        {
            Name = fields.RequiredText("name"),
            Sources = Sources(fields),
            Materials = Names(fields, "materials"),
            ToolMaterials = Names(fields, "toolMaterials"),
            Rows = [],
        };
        var rows = fields.RequiredList("rows").Select(r => Row(fields.ObjectOf(r), table)).ToList();
        fields.End();
        return table with { Rows = rows };
    }

    static List<CuttingSource> Sources(JsonFields fields)
    {
        var sources = new List<CuttingSource>();
        foreach (var item in fields.RequiredList("sources"))
        {
            var source = fields.ObjectOf(item);
            var id = source.RequiredText("id");
            if (sources.Exists(s => s.Id == id))
                throw source.Fault(source.Required("id"), "each source's id once");
            sources.Add(
                new(
                    id,
                    (SourceKind)source.OneOfRequired("kind", [.. SourceKinds]),
                    source.RequiredText("name"),
                    source.Text("note")
                )
            );
            source.End();
        }
        return sources;
    }

    /// <summary>No two things may be called the same, or nobody could tell which is meant.</summary>
    static List<NamedMaterial> Names(JsonFields fields, string list)
    {
        var named = new List<NamedMaterial>();
        var taken = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var item in fields.RequiredList(list))
        {
            var material = fields.ObjectOf(item);
            var name = material.RequiredText("name");
            var also = material.List("alsoCalled").Select(a => (Part: a, Text: material.TextOf(a))).ToList();
            foreach (var (part, text) in also.Prepend((material.Required("name"), name)))
            {
                var words = string.Join(' ', NameMatch.Words(text));
                if (words.Length == 0)
                    throw material.Fault(part, "a name with a letter or a digit in it");
                if (!taken.TryAdd(words, name))
                    throw material.Fault(part, $"a name that is not taken: {taken[words]} is called so already");
            }
            material.End();
            named.Add(new(name, [.. also.Select(a => a.Text)]));
        }
        return named;
    }

    static CuttingRow Row(JsonFields fields, CuttingTable table)
    {
        var units = fields.OneOfRequired("units", "inch", "mm") == 0 ? Units.Inch : Units.Millimetre;
        var row = new CuttingRow
        {
            Figure = (CuttingFigure)fields.OneOfRequired("figure", [.. Figures]),
            Units = units,
            Material = OneOf(fields, "material", table.Materials.Select(m => m.Name)),
            Tools = Kinds(fields),
            ToolMaterial = OneOf(fields, "toolMaterial", table.ToolMaterials.Select(m => m.Name)),
            DiameterFrom = fields.Length("diameterFrom", units, NumberRange.AboveZero),
            DiameterTo = fields.Length("diameterTo", units, NumberRange.AboveZero),
            Least = fields.Number("least", NumberRange.AboveZero),
            Most = fields.Number("most", NumberRange.AboveZero),
            Source = OneOf(fields, "source", table.Sources.Select(s => s.Id)) ?? fields.RequiredText("source"),
        };
        if (row.DiameterFrom > row.DiameterTo)
            throw fields.Fault(fields.Required("diameterTo"), "a diameter not below diameterFrom");
        if (row.Least is null && row.Most is null)
            throw fields.Fault(fields.Required("most"), "a figure: a row gives least, most, or both");
        if (row.Least > row.Most)
            throw fields.Fault(fields.Required("most"), "a figure not below least");
        fields.End();
        return row;
    }

    static List<string> Kinds(JsonFields fields)
    {
        var kinds = fields.RequiredList("tools").Select(k => fields.TextOf(k).Trim()).ToList();
        if (kinds.Count == 0 || kinds.Exists(k => k.Length == 0))
            throw fields.Fault(fields.Required("tools"), "at least one kind of tool, such as [\"end mill\"]");
        return kinds;
    }

    static string? OneOf(JsonFields fields, string name, IEnumerable<string> known)
    {
        if (fields.Optional(name) is not { } value)
            return null;
        var text = fields.TextOf(value);
        var names = known.ToList();
        if (names.Contains(text, StringComparer.Ordinal))
            return text;
        var near = Nearest.To(text, names);
        throw fields.Fault(
            value,
            near is null
                ? $"one of the table's own: {string.Join(", ", names)}"
                : $"one of the table's own: did you mean \"{near}\"?"
        );
    }

    /// <summary>Fields in the order of the format, numbers as the shortest exact decimal, what is not given left out.</summary>
    public static byte[] Write(CuttingTable table)
    {
        using var stream = new MemoryStream();
        var options = new JsonWriterOptions
        {
            Indented = true,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            NewLine = "\n",
        };
        using (var json = new Utf8JsonWriter(stream, options))
        {
            json.WriteStartObject();
            json.WriteString("format", Format);
            json.WriteString("name", table.Name);
            List(json, "sources", table.Sources, SourceOf);
            List(json, "materials", table.Materials, NamedOf);
            List(json, "toolMaterials", table.ToolMaterials, NamedOf);
            List(json, "rows", table.Rows, RowOf);
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
        return stream.ToArray();
    }

    /// <summary>By the table as an object: a changed copy is another one.</summary>
    static readonly ConditionalWeakTable<CuttingTable, string> Digests = [];

    internal static string Digest(CuttingTable table) => Digests.GetValue(table, t => DigestOf(Write(t)));

    /// <summary>Reads a text that is canonical, so that its digest is the table's.</summary>
    internal static CuttingTable ReadCanonical(byte[] json, string fileName)
    {
        var table = Read(json, fileName);
        Digests.Add(table, DigestOf(json));
        return table;
    }

    static string DigestOf(byte[] json) => Convert.ToHexStringLower(SHA256.HashData(json));

    static void List<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<Utf8JsonWriter, T> write)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStartObject();
            write(json, item);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    static void SourceOf(Utf8JsonWriter json, CuttingSource source)
    {
        json.WriteString("id", source.Id);
        json.WriteString("kind", SourceKinds[(int)source.Kind]);
        json.WriteString("name", source.Name);
        if (source.Note.Length > 0)
            json.WriteString("note", source.Note);
    }

    static void NamedOf(Utf8JsonWriter json, NamedMaterial named)
    {
        json.WriteString("name", named.Name);
        Texts(json, "alsoCalled", named.AlsoCalled);
    }

    static void RowOf(Utf8JsonWriter json, CuttingRow row)
    {
        json.WriteString("figure", Figures[(int)row.Figure]);
        json.WriteString("units", row.Units == Units.Inch ? "inch" : "mm");
        if (row.Material is { } material)
            json.WriteString("material", material);
        Texts(json, "tools", row.Tools);
        if (row.ToolMaterial is { } toolMaterial)
            json.WriteString("toolMaterial", toolMaterial);
        Number(json, "diameterFrom", row.DiameterFrom?.In(row.Units));
        Number(json, "diameterTo", row.DiameterTo?.In(row.Units));
        Number(json, "least", row.Least);
        Number(json, "most", row.Most);
        json.WriteString("source", row.Source);
    }

    static void Texts(Utf8JsonWriter json, string name, IReadOnlyList<string> texts)
    {
        json.WriteStartArray(name);
        foreach (var text in texts)
            json.WriteStringValue(text);
        json.WriteEndArray();
    }

    static void Number(Utf8JsonWriter json, string name, decimal? value)
    {
        if (value is { } number)
            json.WriteNumber(name, number / 1.0000000000000000000000000000m);
    }
}
