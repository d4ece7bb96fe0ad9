using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Setups;

namespace Handwheel.Web.Features.Cutting;

/// <summary>A material of the table, or every material where <see cref="Material"/> is null, with its rows.</summary>
public sealed class CuttingGroup(FormPart? material, IEnumerable<FormPart> rows)
{
    public FormPart? Material { get; } = material;
    public List<FormPart> Rows { get; } = [.. rows];

    public string Name => Material is null ? "every material" : Material["name"].Trim();
}

/// <summary>The cutting table as forms: filled from a <c>handwheel-cutting/1</c> document, written back as one.</summary>
public sealed class CuttingForm
{
    public static readonly IReadOnlyList<Field> NameFields = [new("name", "Name of the table", FieldKind.Text)];

    public static readonly IReadOnlyList<Field> MaterialFields =
    [
        new("name", "Material", FieldKind.Text),
        new("alsoCalled", "Also called, commas between", FieldKind.Text),
    ];

    public static readonly IReadOnlyList<Field> SourceFields =
    [
        new("id", "Short word", FieldKind.Text),
        new("kind", "Sort", FieldKind.Choice) { Choices = [.. CuttingFile.SourceKinds] },
        new("name", "Title and place", FieldKind.Text),
        new("note", "Note", FieldKind.Text),
    ];

    public static readonly IReadOnlyList<Field> RowFields =
    [
        new("figure", "What", FieldKind.Choice) { Choices = [.. CuttingFile.Figures] },
        new("units", "In", FieldKind.Choice) { Choices = ["inch", "mm"] },
        new("tools", "Kinds of tool, commas between", FieldKind.Text),
        new("toolMaterial", "Edge", FieldKind.Text),
        new("diameterFrom", "From ⌀"),
        new("diameterTo", "To ⌀"),
        new("least", "Least"),
        new("most", "Most"),
        new("source", "Source", FieldKind.Text),
    ];

    static readonly string[] Lists = ["tools", "alsoCalled"];

    public CuttingForm(byte[] table)
    {
        var document = (JsonObject)JsonNode.Parse(table)!;
        Name = new(NameFields, new JsonObject { ["name"] = document["name"]?.DeepClone() });
        Sources = [.. Objects(document, "sources").Select(s => new FormPart(SourceFields, s))];
        ToolMaterials = [.. Objects(document, "toolMaterials").Select(m => new FormPart(MaterialFields, m))];
        var rows = Objects(document, "rows").ToLookup(r => (string?)r["material"] ?? "");
        Groups =
        [
            .. Objects(document, "materials")
                .Select(m => new CuttingGroup(new(MaterialFields, m), Rows(rows[(string)m["name"]!]))),
            new CuttingGroup(null, Rows(rows[""])),
        ];
    }

    public FormPart Name { get; }
    public List<FormPart> Sources { get; }
    public List<FormPart> ToolMaterials { get; }

    /// <summary>The materials, then the group of every material.</summary>
    public List<CuttingGroup> Groups { get; }

    public CuttingGroup AddMaterial()
    {
        var group = new CuttingGroup(new FormPart(MaterialFields), []);
        Groups.Insert(Groups.Count - 1, group);
        return group;
    }

    static IEnumerable<FormPart> Rows(IEnumerable<JsonObject> rows) => rows.Select(r => new FormPart(RowFields, r));

    /// <summary>Null: <paramref name="refusals"/> says what must be put right first.</summary>
    public CuttingTable? Write(ICollection<string> refusals)
    {
        var document = Name.Write("Table", refusals);
        document["format"] = CuttingFile.Format;
        var places = new Dictionary<string, (FormPart Part, string Name)>(StringComparer.Ordinal);
        Put(document, "sources", Sources.Select(s => (s, "Source " + s["id"], (string?)null)), places, refusals);
        Put(
            document,
            "materials",
            Groups.Where(g => g.Material is not null).Select(g => (g.Material!, "Material " + g.Name, (string?)null)),
            places,
            refusals
        );
        Put(
            document,
            "toolMaterials",
            ToolMaterials.Select(m => (m, "Edge " + m["name"], (string?)null)),
            places,
            refusals
        );
        Put(
            document,
            "rows",
            Groups.SelectMany(g => g.Rows.Select(r => (r, "Row of " + g.Name, g.Material is null ? null : g.Name))),
            places,
            refusals
        );
        if (refusals.Count > 0)
            return null;
        try
        {
            return CuttingFile.Read(Encoding.UTF8.GetBytes(document.ToJsonString()), "This table");
        }
        catch (InputFault fault)
        {
            refusals.Add(InWords(fault, places));
            return null;
        }
    }

    static void Put(
        JsonObject document,
        string list,
        IEnumerable<(FormPart Part, string Name, string? Material)> parts,
        Dictionary<string, (FormPart, string)> places,
        ICollection<string> refusals
    )
    {
        var items = new JsonArray();
        foreach (var (part, name, material) in parts.Where(p => !p.Part.IsEmpty))
        {
            places[$"{list}[{items.Count}]"] = (part, name.TrimEnd());
            var item = part.Write(name.TrimEnd(), refusals);
            foreach (var texts in Lists)
                if (item[texts] is JsonValue text)
                    item[texts] = new JsonArray([.. Split(text.ToString()).Select(t => (JsonNode)t)]);
            item.Remove("material");
            if (material is not null)
                item["material"] = material;
            items.Add((JsonNode)item);
        }
        document[list] = items;
    }

    static string[] Split(string text) =>
        text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    /// <summary>Names the row as the form does, and shows the fault beside its field.</summary>
    static string InWords(InputFault fault, Dictionary<string, (FormPart Part, string Name)> places)
    {
        var path = fault.Path ?? "";
        var end = path.IndexOf(']', StringComparison.Ordinal) + 1;
        if (!places.TryGetValue(path[..end], out var place))
            return fault.Message;
        var field = place.Part.Refuse(path[end..].TrimStart('.').Split('[')[0], fault.Says);
        return $"{place.Name}{(field is null ? "" : ", " + field)}: {fault.Says}";
    }

    static IEnumerable<JsonObject> Objects(JsonObject document, string name)
    {
        foreach (var item in (document[name] as JsonArray ?? []).OfType<JsonObject>())
        {
            var copy = (JsonObject)item.DeepClone();
            foreach (var list in Lists)
                if (copy[list] is JsonArray texts)
                    copy[list] = string.Join(", ", texts.Select(t => t!.ToString()));
            yield return copy;
        }
    }
}
