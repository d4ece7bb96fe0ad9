using System.Globalization;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Readings;

namespace Handwheel.Web.Features.Setups;

/// <summary>
/// A form over one object of a setup file. What a person types is kept as typed until it is written back, so a slip is
/// shown beside its field and nothing else is lost; what the form does not show stays as it was.
/// </summary>
public sealed class FormPart(IReadOnlyList<Field> fields, JsonObject? kept = null)
{
    readonly JsonObject kept = kept ?? [];
    readonly Dictionary<string, string> typed = new(StringComparer.Ordinal);
    readonly Dictionary<string, string> refused = new(StringComparer.Ordinal);

    public IReadOnlyList<Field> Fields { get; } = fields;

    /// <summary>The text of a field: as typed, else as the file has it, else empty.</summary>
    public string this[string path]
    {
        get => typed.TryGetValue(path, out var text) ? text : Text(path);
        set => typed[path] = value;
    }

    /// <summary>Why the field's text cannot be used; null: it can.</summary>
    public string? Refusal(string path) => refused.GetValueOrDefault(path);

    /// <summary>Whether every field is empty: such a row is left out of the file.</summary>
    public bool IsEmpty => Fields.All(f => this[f.Path].Length == 0);

    /// <summary>The same fields with the same text, on their own; no refusal is in it.</summary>
    public FormPart Copy()
    {
        var copy = new FormPart(Fields, (JsonObject)kept.DeepClone());
        foreach (var (path, text) in typed)
            copy[path] = text;
        return copy;
    }

    /// <summary>The object as it would stand in the file; refused fields are left out and named in <paramref name="refusals"/>.</summary>
    /// <param name="name">What the part is called in a refusal: <c>Tool 3</c>.</param>
    public JsonObject Write(string name, ICollection<string> refusals)
    {
        refused.Clear();
        var written = (JsonObject)kept.DeepClone();
        foreach (var field in Fields)
        {
            var text = this[field.Path].Trim();
            if (!TryRead(field, text, out var value, out var refusal))
            {
                refused[field.Path] = refusal;
                refusals.Add($"{name}, {field.Label}: {refusal}");
            }
            Put(written, field.Path.Split('.'), value);
        }
        return written;
    }

    /// <summary>Shows <paramref name="why"/> beside the fields at <paramref name="path"/> of the file (<c>travel.y</c>, <c>holder[0].length</c>).</summary>
    /// <returns>What the fields are called; null: this part has no such field.</returns>
    public string? Refuse(string path, string why)
    {
        path = path.Replace("[", ".", StringComparison.Ordinal).Replace("]", "", StringComparison.Ordinal);
        var meant = Fields
            .Where(f =>
                f.Path == path
                || f.Path.StartsWith(path + ".", StringComparison.Ordinal)
                || path.StartsWith(f.Path + ".", StringComparison.Ordinal)
            )
            .ToList();
        foreach (var field in meant)
            refused[field.Path] = why;
        return meant.Count == 0 ? null : string.Join(" and ", meant.Select(f => f.Label));
    }

    static bool TryRead(Field field, string text, out JsonNode? value, out string refusal)
    {
        value = null;
        refusal = "";
        if (text.Length == 0)
            return true;
        switch (field.Kind)
        {
            case FieldKind.Number when TypedNumber.TryRead(text, out var number, out var why):
                value = JsonValue.Create(number.Value);
                return true;
            case FieldKind.Number:
                TypedNumber.TryRead(text, out _, out refusal!);
                return false;
            case FieldKind.Whole
                when int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var whole):
                value = JsonValue.Create(whole);
                return true;
            case FieldKind.Whole:
                refusal = $"“{text}” is no whole number; type digits alone, such as 3";
                return false;
            case FieldKind.YesNo:
                value = JsonValue.Create(text == "yes");
                return true;
            case FieldKind.Lines:
                value = new JsonArray([.. Split(text).Select(line => (JsonNode)JsonValue.Create(line))]);
                return true;
            default:
                value = JsonValue.Create(text);
                return true;
        }
    }

    static string[] Split(string lines) =>
        lines.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    string Text(string path)
    {
        JsonNode? at = kept;
        foreach (var step in path.Split('.'))
            at = at switch
            {
                JsonObject o => o[step],
                JsonArray a when Index(step) is var i && i < a.Count => a[i],
                _ => null,
            };
        return at switch
        {
            null => "",
            JsonArray lines => string.Join("\n", lines.Select(l => l?.ToString())),
            JsonValue v when v.TryGetValue<bool>(out var yes) => yes ? "yes" : "no",
            _ => at.ToString(),
        };
    }

    // Makes the way to the field where there is something to put; takes emptied objects away again.
    static void Put(JsonObject into, ReadOnlySpan<string> path, JsonNode? value)
    {
        var step = path[0];
        if (path.Length == 1)
        {
            into.Remove(step);
            if (value is not null)
                into[step] = value;
            return;
        }
        if (IsIndex(path[1]))
        {
            PutInList(into, step, path[1..], value);
            return;
        }
        if (into[step] is not JsonObject inner)
        {
            if (value is null)
                return;
            into[step] = inner = [];
        }
        Put(inner, path[1..], value);
        if (inner.Count == 0)
            into.Remove(step);
    }

    static void PutInList(JsonObject into, string name, ReadOnlySpan<string> path, JsonNode? value)
    {
        var list = into[name] as JsonArray ?? [];
        var index = Index(path[0]);
        if (value is null && index >= list.Count)
            return;
        while (list.Count <= index)
            list.Add(path.Length == 1 ? null : new JsonObject());
        if (path.Length == 1)
            list[index] = value;
        else if (list[index] is JsonObject inner)
            Put(inner, path[1..], value);
        while (list.Count > 0 && list[^1] is null or JsonObject { Count: 0 })
            list.RemoveAt(list.Count - 1);
        into.Remove(name);
        if (list.Count > 0)
            into[name] = list;
    }

    static bool IsIndex(string step) => step[0] is >= '0' and <= '9';

    static int Index(string step) =>
        IsIndex(step) ? int.Parse(step, NumberStyles.None, CultureInfo.InvariantCulture) : int.MaxValue;
}
