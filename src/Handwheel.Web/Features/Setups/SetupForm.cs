using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Features.Setups;

/// <summary>A whole setup as forms: filled from a <c>handwheel-setup/1</c> document, written back as one.</summary>
public sealed class SetupForm
{
    static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    readonly JsonObject kept;

    /// <param name="document">A document in the format of a setup; fields that no form shows are kept as they are.</param>
    public SetupForm(JsonObject document)
    {
        kept = document;
        Units = (string?)document["units"] ?? "";
        Machine = new(
            [new Field("name", "Name", FieldKind.Text), .. SetupFields.Machine],
            document["machine"]?.DeepClone() as JsonObject
        );
        Whole = new([.. SetupFields.Job, .. SetupFields.AirCut, SetupFields.Parking], (JsonObject)document.DeepClone());
        CommonOffset = new(SetupFields.CommonOffset, document["commonOffset"]?.DeepClone() as JsonObject);
        Tools = Rows("tools", SetupFields.Tool);
        Stock = Rows("stock", SetupFields.Stock);
        var holding = Objects("holding").ToLookup(h => (string?)h["shape"] == "cylinder");
        Boxes = [.. holding[false].Select(h => new FormPart(SetupFields.BoxHolding, h))];
        Rounds = [.. holding[true].Select(h => new FormPart(SetupFields.RoundHolding, h))];
        Characteristics = Rows("characteristics", SetupFields.Characteristic);
        WorkOffsets =
        [
            .. (document["workOffsets"] as JsonObject ?? []).Select(o =>
            {
                var row = o.Value?.DeepClone() as JsonObject ?? [];
                row["name"] = o.Key;
                return new FormPart(SetupFields.WorkOffset, row);
            }),
        ];
    }

    SetupForm(SetupForm from)
    {
        kept = from.kept;
        Units = from.Units;
        (Machine, Whole, CommonOffset) = (from.Machine.Copy(), from.Whole.Copy(), from.CommonOffset.Copy());
        WorkOffsets = Copies(from.WorkOffsets);
        Tools = Copies(from.Tools);
        Stock = Copies(from.Stock);
        Boxes = Copies(from.Boxes);
        Rounds = Copies(from.Rounds);
        Characteristics = Copies(from.Characteristics);

        static List<FormPart> Copies(List<FormPart> rows) => [.. rows.Select(r => r.Copy())];
    }

    /// <summary>The same text in the same fields, to be read without anything being marked in this one.</summary>
    public SetupForm Copy() => new(this);

    /// <summary><c>inch</c>, <c>mm</c>, or empty: not chosen.</summary>
    public string Units { get; set; }
    public FormPart Machine { get; }

    /// <summary>What stands at the top of the file: job note, air-cut rules, shop rules, parking list.</summary>
    public FormPart Whole { get; }
    public FormPart CommonOffset { get; }
    public List<FormPart> WorkOffsets { get; }
    public List<FormPart> Tools { get; }
    public List<FormPart> Stock { get; }
    public List<FormPart> Boxes { get; }
    public List<FormPart> Rounds { get; }
    public List<FormPart> Characteristics { get; }

    public static SetupForm From(ReadOnlySpan<byte> json) => new((JsonObject)JsonNode.Parse(json)!);

    /// <summary>The document as bytes of indented JSON; refusals name each field that could not be used.</summary>
    public byte[] Write(ICollection<string> refusals)
    {
        var written = Whole.Write("Job", refusals);
        written["format"] = "handwheel-setup/1";
        written.Remove("units");
        if (Units.Length > 0)
            written["units"] = Units;
        written["machine"] = Machine.Write("Machine", refusals);
        written["workOffsets"] = Offsets(refusals);
        PutOrRemove(written, "commonOffset", CommonOffset.Write("Common offset", refusals));
        written["tools"] = List(Tools, "Tool", "tool", refusals);
        written["stock"] = List(Stock, "Stock", "workOffset", refusals);
        var boxes = List(Boxes, "Holding", "name", refusals, "box");
        foreach (var round in List(Rounds, "Holding", "name", refusals, "cylinder").ToArray())
            boxes.Add(round!.DeepClone());
        written["holding"] = boxes;
        written["characteristics"] = List(Characteristics, "Characteristic", "name", refusals);
        return JsonSerializer.SerializeToUtf8Bytes(written, Indented);
    }

    /// <summary>A fault of the written document, named as the form names its field and shown beside it.</summary>
    public string InWords(InputFault fault)
    {
        var path = fault.Path ?? "";
        foreach (var (list, name, rows) in Lists())
            for (var i = 0; i < rows.Count; i++)
                if (
                    $"{list}[{i.ToString(CultureInfo.InvariantCulture)}]." is var start
                    && path.StartsWith(start, StringComparison.Ordinal)
                    && rows[i].Refuse(path[start.Length..], fault.Says) is { } label
                )
                    return $"{name} {rows[i][rows[i].Fields[0].Path]}, {label}: {fault.Says}";
        foreach (var row in WorkOffsets.Where(r => !r.IsEmpty))
            if (
                $"workOffsets.{row["name"].Trim()}." is var start
                && path.StartsWith(start, StringComparison.Ordinal)
                && row.Refuse(path[start.Length..], fault.Says) is { } label
            )
                return $"{row["name"]}, {label}: {fault.Says}";
        return Whole.Refuse(path, fault.Says) is { } named ? $"{named}: {fault.Says}" : fault.Message;
    }

    IEnumerable<(string List, string Name, IReadOnlyList<FormPart> Rows)> Lists()
    {
        yield return ("tools", "Tool", Filled(Tools));
        yield return ("stock", "Stock from zero of", Filled(Stock));
        yield return ("holding", "Holding", [.. Filled(Boxes), .. Filled(Rounds)]);
        yield return ("characteristics", "First piece", Filled(Characteristics));
    }

    static List<FormPart> Filled(IEnumerable<FormPart> rows) => [.. rows.Where(r => !r.IsEmpty)];

    JsonObject Offsets(ICollection<string> refusals)
    {
        var written = new JsonObject();
        foreach (var row in WorkOffsets.Where(r => !r.IsEmpty))
        {
            var name = row["name"].Trim();
            var offset = row.Write(name.Length > 0 ? name : "Work offset", refusals);
            offset.Remove("name");
            if (name.Length == 0)
                refusals.Add("Work offset: the register has no name; type G54, say");
            else if (!written.TryAdd(name, offset))
                refusals.Add($"Work offset {name}: it stands twice in the table; keep one of the two");
        }
        return written;
    }

    static JsonArray List(
        IEnumerable<FormPart> rows,
        string what,
        string key,
        ICollection<string> refusals,
        string? shape = null
    )
    {
        var list = new JsonArray();
        foreach (var row in rows.Where(r => !r.IsEmpty))
        {
            var written = row.Write($"{what} {row[key]}".TrimEnd(), refusals);
            if (shape is not null)
                written["shape"] = shape;
            list.Add((JsonNode)written);
        }
        return list;
    }

    static void PutOrRemove(JsonObject into, string name, JsonObject value)
    {
        into.Remove(name);
        if (value.Count > 0)
            into[name] = value;
    }

    List<FormPart> Rows(string name, IReadOnlyList<Field> fields) =>
        [.. Objects(name).Select(row => new FormPart(fields, row))];

    // Stock may be one object or a list of them.
    IEnumerable<JsonObject> Objects(string name) =>
        kept[name] switch
        {
            JsonArray list => list.OfType<JsonObject>().Select(o => (JsonObject)o.DeepClone()),
            JsonObject one => [(JsonObject)one.DeepClone()],
            _ => [],
        };
}
