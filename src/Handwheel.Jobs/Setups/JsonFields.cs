using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Setups;

/// <summary>
/// The fields of one JSON object, taken one by one; what is left over at <see cref="End"/> is an unknown field. Every fault
/// names file, line and path.
/// </summary>
sealed class JsonFields
{
    readonly JsonPart part;
    readonly string fileName;

    readonly HashSet<string> asked = new(StringComparer.Ordinal);

    public JsonFields(JsonPart part, string fileName)
    {
        this.part = part;
        this.fileName = fileName;
        if (part.Shape != JsonShape.Object)
            throw Fault(part, "an object { … }");
    }

    public string FileName => fileName;

    /// <summary>Called when every known field was taken; refuses any other.</summary>
    public void End()
    {
        foreach (var (name, member) in part.Members)
            if (!asked.Contains(name))
                throw Unknown(name, member.Line);
    }

    InputFault Unknown(string name, int line)
    {
        var near = Nearest.To(name, asked);
        var expected = near is not null
            ? $"a known field: did you mean \"{near}\"?"
            : "one of " + string.Join(", ", asked);
        return new InputFault(fileName, line, Inside(name), "an unknown field", expected);
    }

    string Inside(string name) => part.Path.Length == 0 ? name : part.Path + "." + name;

    public InputFault Fault(JsonPart at, string expected) => new(fileName, at.Line, at.Path, at.Found, expected);

    public bool Has(string name)
    {
        asked.Add(name);
        return part.Members.ContainsKey(name);
    }

    /// <summary>Null where the field is absent or null.</summary>
    public JsonPart? Optional(string name)
    {
        asked.Add(name);
        return part.Members.TryGetValue(name, out var member) && member.Value.Shape != JsonShape.Null
            ? member.Value
            : null;
    }

    public JsonPart Required(string name)
    {
        var value = Optional(name);
        if (value is not null)
            return value;
        if (part.Members.TryGetValue(name, out var given))
            throw Fault(given.Value, "a value: this field is required");
        var near = Nearest.To(name, part.Members.Keys.Where(k => !asked.Contains(k)));
        var found = near is null ? "nothing" : $"\"{near}\"";
        throw new InputFault(fileName, part.Line, Inside(name), found, $"the field \"{name}\", which is required");
    }

    public JsonFields? OptionalObject(string name) => Optional(name) is { } value ? new(value, fileName) : null;

    public JsonFields RequiredObject(string name) => new(Required(name), fileName);

    public JsonFields ObjectOf(JsonPart item) => new(item, fileName);

    public IReadOnlyDictionary<string, JsonMember> Members => part.Members;

    public IReadOnlyList<JsonPart> List(string name)
    {
        if (Optional(name) is not { } value)
            return [];
        return value.Shape == JsonShape.List ? value.Items : throw Fault(value, "a list [ … ]");
    }

    public IReadOnlyList<JsonPart> RequiredList(string name)
    {
        Required(name);
        return List(name);
    }

    public string Text(string name, bool severalLines = false) =>
        Optional(name) is { } value ? TextOf(value, severalLines) : "";

    public string RequiredText(string name)
    {
        var value = Required(name);
        var text = TextOf(value);
        return string.IsNullOrWhiteSpace(text) ? throw Fault(value, "a text that is not empty") : text;
    }

    public string TextOf(JsonPart value, bool severalLines = false)
    {
        if (value.Shape != JsonShape.Text)
            throw Fault(value, "a text in double quotes");
        if (value.Content.Length > 10_000)
            throw new InputFault(
                fileName,
                value.Line,
                value.Path,
                $"{value.Content.Length} characters",
                "at most 10000"
            );
        if (value.Content.Any(c => char.IsControl(c) && !(severalLines && c is '\n' or '\r' or '\t')))
            throw Fault(
                value,
                severalLines ? "a text without control characters" : "a text of one line without control characters"
            );
        return value.Content;
    }

    public bool? YesNo(string name) =>
        Optional(name) switch
        {
            null => null,
            { Shape: JsonShape.True } => true,
            { Shape: JsonShape.False } => false,
            var other => throw Fault(other, "true or false"),
        };

    /// <summary>The index of the word in <paramref name="words"/>, null where absent.</summary>
    public int? OneOf(string name, params string[] words)
    {
        return Optional(name) is { } value ? WordOf(value, words) : null;
    }

    public int OneOfRequired(string name, params string[] words) => WordOf(Required(name), words);

    int WordOf(JsonPart value, string[] words)
    {
        var index = value.Shape == JsonShape.Text ? Array.IndexOf(words, value.Content) : -1;
        if (index >= 0)
            return index;
        var expected = string.Join(" or ", words.Select(w => $"\"{w}\""));
        var near = value.Shape == JsonShape.Text ? Nearest.To(value.Content, words) : null;
        throw Fault(value, near is null ? expected : $"{expected}: did you mean \"{near}\"?");
    }

    public Length? Length(string name, Units units, NumberRange range = NumberRange.Any) =>
        Optional(name) is { } value ? LengthOf(value, units, range) : null;

    public Length RequiredLength(string name, Units units, NumberRange range = NumberRange.Any) =>
        LengthOf(Required(name), units, range);

    public Length LengthOf(JsonPart value, Units units, NumberRange range = NumberRange.Any) =>
        Nc.Length.From(NumberOf(value, units.ExactDecimals(), range, "a length in " + units.Symbol()), units);

    public decimal? Number(string name, NumberRange range) =>
        Optional(name) is { } value ? NumberOf(value, 6, range, "a number") : null;

    public decimal RequiredNumber(string name, NumberRange range) => NumberOf(Required(name), 6, range, "a number");

    public int? Whole(string name, int least, int most) =>
        Optional(name) is { } value ? WholeOf(value, least, most) : null;

    public int WholeOf(JsonPart value, int least, int most)
    {
        var expected = string.Create(CultureInfo.InvariantCulture, $"a whole number from {least} to {most}");
        var number = value.Shape == JsonShape.Number ? ExactDecimal.Read(value.Content) : null;
        if (number is not { Decimals: 0 } || number.Value.Number < least || number.Value.Number > most)
            throw Fault(value, expected);
        return (int)number.Value.Number;
    }

    decimal NumberOf(JsonPart value, int decimals, NumberRange range, string what)
    {
        if (value.Shape != JsonShape.Number)
            throw Fault(value, what + ", written without quotes");
        if (ExactDecimal.Read(value.Content) is not { } exact || Math.Abs(exact.Number) >= range.Most())
            throw Fault(value, string.Create(CultureInfo.InvariantCulture, $"{what} below {range.Most()}"));
        if (exact.Decimals > decimals)
            throw Fault(value, $"{what} with at most {decimals} decimals");
        if (!range.Holds(exact.Number))
            throw Fault(value, what + range.Words());
        return exact.Number;
    }
}

enum NumberRange
{
    /// <summary>Either sign, below 100 000.</summary>
    Any,
    AboveZero,
    ZeroOrMore,

    /// <summary>Above 0, at most 1.</summary>
    Share,

    /// <summary>Above 0, below 10 000 000: feeds, speeds, accelerations.</summary>
    Rate,
}

static class NumberRanges
{
    public static decimal Most(this NumberRange range) => range == NumberRange.Rate ? 10_000_000 : 100_000;

    public static bool Holds(this NumberRange range, decimal value) =>
        range switch
        {
            NumberRange.AboveZero or NumberRange.Rate => value > 0,
            NumberRange.ZeroOrMore => value >= 0,
            NumberRange.Share => value is > 0 and <= 1,
            _ => true,
        };

    public static string Words(this NumberRange range) =>
        range switch
        {
            NumberRange.AboveZero or NumberRange.Rate => " above 0",
            NumberRange.ZeroOrMore => " of 0 or more",
            NumberRange.Share => " above 0 and at most 1",
            _ => "",
        };
}
