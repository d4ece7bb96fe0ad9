using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Handwheel.Web.Features.Floor;

/// <summary>
/// An act from a plain form, for a tablet whose script did not run. The hidden field <c>act</c> holds what the page knew;
/// a field <c>act.x.y</c> fills <c>y</c> in <c>x</c>; <c>:number</c> or <c>:flag</c> after the name says what its text stands
/// for, and <c>:more</c> adds its text as a further line to what the page knew. The page's script reads the same names.
/// </summary>
public static class ActForm
{
    const string Prefix = "act.";
    const int MostFields = 400;

    /// <exception cref="JsonException">The form does not hold an act.</exception>
    public static JsonObject Read(IFormCollection form)
    {
        if (JsonNode.Parse(form["act"].ToString()) is not JsonObject act)
            throw new JsonException("the field act is not a JSON object");
        foreach (var (name, values) in form.Take(MostFields))
        {
            if (name.StartsWith(Prefix, StringComparison.Ordinal) && values.Count > 0)
                Put(act, name[Prefix.Length..], values[^1] ?? "");
        }
        return act;
    }

    static void Put(JsonObject act, string name, string text)
    {
        var colon = name.IndexOf(':', StringComparison.Ordinal);
        var path = (colon < 0 ? name : name[..colon]).Split('.');
        var kind = colon < 0 ? "" : name[(colon + 1)..];
        JsonNode at = act;
        for (var i = 0; i < path.Length - 1; i++)
            at = Child(at, path[i], nextIsPlace: IsPlace(path[i + 1]));
        Set(at, path[^1], kind == "more" ? More(at, path[^1], text) : Value(kind, text));
    }

    static JsonValue? More(JsonNode parent, string part, string text)
    {
        var known = (parent as JsonObject)?[part]?.GetValue<string>() ?? "";
        string[] lines = [known, text.Trim()];
        return JsonValue.Create(string.Join('\n', lines.Where(l => l.Length > 0)));
    }

    static JsonValue? Value(string kind, string text) =>
        kind switch
        {
            "flag" => JsonValue.Create(text == "true"),
            "number" => long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number)
                ? JsonValue.Create(number)
                : throw new JsonException($"\"{text}\" is not a whole number"),
            _ => JsonValue.Create(text),
        };

    static JsonNode Child(JsonNode parent, string part, bool nextIsPlace)
    {
        var there = parent is JsonArray list ? list.ElementAtOrDefault(Place(part)) : parent.AsObject()[part];
        if (there is not null)
            return there;
        JsonNode made = nextIsPlace ? new JsonArray() : new JsonObject();
        Set(parent, part, made);
        return made;
    }

    static void Set(JsonNode parent, string part, JsonNode? value)
    {
        if (parent is not JsonArray list)
        {
            parent.AsObject()[part] = value;
            return;
        }
        var place = Place(part);
        while (list.Count <= place)
            list.Add(null);
        list[place] = value;
    }

    static bool IsPlace(string part) => part.Length > 0 && part.All(char.IsAsciiDigit);

    static int Place(string part) =>
        IsPlace(part) && part.Length <= 3
            ? int.Parse(part, NumberStyles.None, CultureInfo.InvariantCulture)
            : throw new JsonException($"\"{part}\" is not a place in a list");
}
