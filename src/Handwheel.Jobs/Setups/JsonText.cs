using System.Text;
using System.Text.Json;

namespace Handwheel.Jobs.Setups;

enum JsonShape
{
    Null,
    True,
    False,
    Number,
    Text,
    List,
    Object,
}

/// <summary>A value of a JSON text that knows its line and its path, and keeps a number as it was written.</summary>
sealed class JsonPart
{
    public required JsonShape Shape { get; init; }

    /// <summary>From 1.</summary>
    public required int Line { get; init; }

    /// <summary>Such as <c>tools[2].diameter</c>; empty for the whole text.</summary>
    public required string Path { get; init; }

    /// <summary>The characters of a number, or the content of a text.</summary>
    public string Content { get; init; } = "";
    public IReadOnlyList<JsonPart> Items { get; init; } = [];
    public IReadOnlyDictionary<string, JsonMember> Members { get; init; } = new Dictionary<string, JsonMember>();

    /// <summary>What stands here, for a message: <c>"in"</c>, <c>12.5</c>, <c>a list</c>.</summary>
    public string Found =>
        Shape switch
        {
            JsonShape.Null => "null",
            JsonShape.True => "true",
            JsonShape.False => "false",
            JsonShape.Number => Shorten(Content),
            JsonShape.Text => '"' + Shorten(Content) + '"',
            JsonShape.List => Items.Count == 0 ? "an empty list" : "a list",
            _ => "an object",
        };

    static string Shorten(string text)
    {
        var plain = string.Concat(text.Take(60).Select(c => char.IsControl(c) || char.IsSurrogate(c) ? '?' : c));
        return text.Length > 60 ? plain + "…" : plain;
    }
}

readonly record struct JsonMember(JsonPart Value, int Line);

/// <summary>
/// Reads a JSON text (RFC 8259) strictly: UTF-8, no comments, no trailing commas, no key twice, nothing after the end.
/// A byte order mark of UTF-8 is passed over.
/// </summary>
static class JsonText
{
    const int BytesMost = 16 * 1024 * 1024;
    const int DepthMost = 32;

    public static JsonPart Read(byte[] json, string fileName)
    {
        if (json.Length > BytesMost)
            throw new InputFault(fileName, null, null, $"{json.Length} bytes", $"at most {BytesMost} (16 MiB)");
        var start = json.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]) ? 3 : 0;
        if (json.AsSpan(start).IndexOfAnyExcept(" \t\r\n"u8) < 0)
            throw new InputFault(fileName, null, null, "an empty file", "a JSON object");
        if (json is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..])
            throw new InputFault(fileName, 1, null, "UTF-16 text", "JSON in UTF-8: save the file as UTF-8");
        NeedUtf8(json, fileName);
        var reader = new Utf8JsonReader(
            json.AsSpan(start),
            new JsonReaderOptions { CommentHandling = JsonCommentHandling.Disallow, MaxDepth = DepthMost }
        );
        var walk = new Walk(json, start, fileName);
        try
        {
            reader.Read();
            var whole = walk.Part(ref reader, "");
            reader.Read();
            return whole;
        }
        catch (JsonException fault)
        {
            throw walk.SyntaxFault(fault);
        }
    }

    static void NeedUtf8(byte[] json, string fileName)
    {
        var rest = json.AsSpan();
        while (!rest.IsEmpty)
        {
            if (Rune.DecodeFromUtf8(rest, out var rune, out var used) != System.Buffers.OperationStatus.Done)
            {
                var line = 1 + json.AsSpan(0, json.Length - rest.Length).Count((byte)'\n');
                throw new InputFault(
                    fileName,
                    line,
                    null,
                    $"the byte {rest[0]:X2} (hex), which is not UTF-8",
                    "JSON in UTF-8"
                );
            }
            if (rune.Value == 0)
            {
                var line = 1 + json.AsSpan(0, json.Length - rest.Length).Count((byte)'\n');
                throw new InputFault(fileName, line, null, "a zero byte: this is no text", "JSON in UTF-8");
            }
            rest = rest[used..];
        }
    }

    /// <summary>Counts lines as the reader moves on.</summary>
    sealed class Walk(byte[] json, int start, string fileName)
    {
        int counted;
        int line = 1;

        int LineOf(ref Utf8JsonReader reader)
        {
            var at = start + (int)reader.TokenStartIndex;
            line += json.AsSpan(counted, at - counted).Count((byte)'\n');
            counted = at;
            return line;
        }

        public JsonPart Part(ref Utf8JsonReader reader, string path)
        {
            var here = LineOf(ref reader);
            return reader.TokenType switch
            {
                JsonTokenType.StartObject => Object(ref reader, path, here),
                JsonTokenType.StartArray => List(ref reader, path, here),
                JsonTokenType.String => new()
                {
                    Shape = JsonShape.Text,
                    Line = here,
                    Path = path,
                    Content = TextOf(ref reader, path, here),
                },
                JsonTokenType.Number => new()
                {
                    Shape = JsonShape.Number,
                    Line = here,
                    Path = path,
                    Content = Encoding.ASCII.GetString(reader.ValueSpan),
                },
                JsonTokenType.True => new()
                {
                    Shape = JsonShape.True,
                    Line = here,
                    Path = path,
                },
                JsonTokenType.False => new()
                {
                    Shape = JsonShape.False,
                    Line = here,
                    Path = path,
                },
                _ => new()
                {
                    Shape = JsonShape.Null,
                    Line = here,
                    Path = path,
                },
            };
        }

        JsonPart Object(ref Utf8JsonReader reader, string path, int here)
        {
            var members = new Dictionary<string, JsonMember>(StringComparer.Ordinal);
            while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
            {
                var keyLine = LineOf(ref reader);
                var key = TextOf(ref reader, path, keyLine);
                var inside = path.Length == 0 ? key : path + "." + key;
                if (members.TryGetValue(key, out var first))
                    throw new InputFault(
                        fileName,
                        keyLine,
                        inside,
                        $"this field again (first in line {first.Line})",
                        "each field once"
                    );
                reader.Read();
                members.Add(key, new(Part(ref reader, inside), keyLine));
            }
            return new()
            {
                Shape = JsonShape.Object,
                Line = here,
                Path = path,
                Members = members,
            };
        }

        JsonPart List(ref Utf8JsonReader reader, string path, int here)
        {
            var items = new List<JsonPart>();
            while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
                items.Add(Part(ref reader, $"{path}[{items.Count}]"));
            return new()
            {
                Shape = JsonShape.List,
                Line = here,
                Path = path,
                Items = items,
            };
        }

        string TextOf(ref Utf8JsonReader reader, string path, int here)
        {
            try
            {
                return reader.GetString()!;
            }
            catch (InvalidOperationException)
            {
                throw new InputFault(
                    fileName,
                    here,
                    path,
                    "half a character (a lone surrogate)",
                    "whole Unicode characters"
                );
            }
        }

        public InputFault SyntaxFault(JsonException fault)
        {
            var lineNumber = (int)(fault.LineNumber ?? 0);
            var at = start;
            for (var i = 0; i < lineNumber; i++)
                at += json.AsSpan(at).IndexOf((byte)'\n') + 1;
            at = Math.Min(at + (int)(fault.BytePositionInLine ?? 0), json.Length);
            var (found, expected) = Explain(at, fault);
            var column = fault.BytePositionInLine is { } position ? $", column {position + 1}" : "";
            return new InputFault(fileName, lineNumber + 1, null, found + column, expected);
        }

        (string Found, string Expected) Explain(int at, JsonException fault)
        {
            if (fault.Message.Contains("maximum configured depth", StringComparison.Ordinal))
                return ($"more than {DepthMost} levels of brackets", "a setup");
            var rest = json.AsSpan(at);
            var next = rest.IndexOfAnyExcept(" \t\r\n"u8);
            if (next < 0)
                return (
                    "the end of the file in the middle",
                    "the rest of the JSON (a bracket or a quote is not closed)"
                );
            var mark = (char)rest[next];
            if (mark == '/' || (next + at > 0 && json[at - 1] == '/'))
                return ("a comment", "JSON without comments");
            if (mark is '}' or ']' && PreviousMark(at) == ',')
                return ($"a comma before the closing {mark}", "no comma after the last one");
            if (fault.Message.Contains("single JSON value", StringComparison.Ordinal))
                return ($"more text after the end ({Mark(mark)})", "one JSON object and nothing after it");
            return mark switch
            {
                '\'' => ("a single quote", "double quotes around names and texts"),
                '\n' or '\r' => ("the end of the line inside a text", "a closing quote"),
                _ => ($"{Mark(mark)} where it cannot stand", "valid JSON"),
            };
        }

        static string Mark(char mark) => mark is > ' ' and < '\x7f' ? $"the character {mark}" : "a character";

        char PreviousMark(int at)
        {
            var before = json.AsSpan(0, at).LastIndexOfAnyExcept(" \t\r\n"u8);
            return before < 0 ? '\0' : (char)json[before];
        }
    }
}
