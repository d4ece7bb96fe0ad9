using System.Buffers;
using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;
using System.Text.Json;
using System.Text.Unicode;

namespace Handwheel.Jobs.Records;

/// <summary>JSON in the one form of RFC 8785 (JCS): members in UTF-16 order, no spaces, numbers as ECMAScript prints them.</summary>
public static class CanonicalJson
{
    static readonly JsonDocumentOptions Strict = new() { AllowDuplicateProperties = false };

    /// <exception cref="FormatException">Not JSON, a member twice, a lone surrogate, or a number past the range of a double.</exception>
    public static byte[] Of(ReadOnlySpan<byte> json) => Of(Parse(json));

    /// <exception cref="FormatException">Not JSON, or a member twice.</exception>
    public static JsonElement Parse(ReadOnlySpan<byte> json)
    {
        try
        {
            return JsonElement.Parse(json, Strict);
        }
        catch (JsonException fault)
        {
            throw new FormatException("This is not JSON: " + fault.Message, fault);
        }
    }

    /// <exception cref="FormatException">A lone surrogate, or a number past the range of a double.</exception>
    public static byte[] Of(JsonElement value)
    {
        var output = new ArrayBufferWriter<byte>(JsonMarshal.GetRawUtf8Value(value).Length);
        Write(value, output);
        return output.WrittenSpan.ToArray();
    }

    /// <summary>A double as ECMAScript's Number.prototype.toString prints it (RFC 8785 §3.2.2.3).</summary>
    /// <exception cref="FormatException">Not a number, or infinite.</exception>
    public static string NumberText(double value)
    {
        if (!double.IsFinite(value))
            throw new FormatException("A number is past the range that canonical JSON can hold.");
        if (value == 0)
            return "0";
        // "E16" would round; "R" gives the shortest digits that read back the same, in one of two notations
        var text = value.ToString("R", CultureInfo.InvariantCulture);
        var negative = text[0] == '-';
        var exponentAt = text.IndexOf('E', StringComparison.Ordinal);
        var exponent = exponentAt < 0 ? 0 : int.Parse(text[(exponentAt + 1)..], CultureInfo.InvariantCulture);
        var mantissa = (exponentAt < 0 ? text : text[..exponentAt]).TrimStart('-');
        var pointAt = mantissa.IndexOf('.', StringComparison.Ordinal);
        var whole = pointAt < 0 ? mantissa.Length : pointAt;
        var all = mantissa.Replace(".", "", StringComparison.Ordinal);
        var digits = all.TrimStart('0');
        var point = whole + exponent - (all.Length - digits.Length);
        return (negative ? "-" : "") + Placed(digits.TrimEnd('0'), point);
    }

    /// <summary>The digits with the decimal point after the first <paramref name="point"/> of them.</summary>
    static string Placed(string digits, int point)
    {
        if (point is > 0 and <= 21)
            return digits.Length <= point
                ? digits + new string('0', point - digits.Length)
                : digits[..point] + "." + digits[point..];
        if (point is > -6 and <= 0)
            return "0." + new string('0', -point) + digits;
        var exponent = (point - 1).ToString("+0;-0", CultureInfo.InvariantCulture);
        return (digits.Length == 1 ? digits : digits[..1] + "." + digits[1..]) + "e" + exponent;
    }

    static void Write(JsonElement value, ArrayBufferWriter<byte> output)
    {
        switch (value.ValueKind)
        {
            case JsonValueKind.Object:
                WriteObject(value, output);
                break;
            case JsonValueKind.Array:
                var first = true;
                output.Write("["u8);
                foreach (var item in value.EnumerateArray())
                {
                    if (!first)
                        output.Write(","u8);
                    first = false;
                    Write(item, output);
                }
                output.Write("]"u8);
                break;
            case JsonValueKind.String:
                if (IsCanonical(JsonMarshal.GetRawUtf8Value(value)))
                    output.Write(JsonMarshal.GetRawUtf8Value(value));
                else
                    WriteString(Text(value), output);
                break;
            case JsonValueKind.Number:
                WriteAscii(NumberText(value.GetDouble()), output);
                break;
            default:
                WriteAscii(value.GetRawText(), output);
                break;
        }
    }

    static void WriteObject(JsonElement value, ArrayBufferWriter<byte> output)
    {
        var first = true;
        output.Write("{"u8);
        foreach (var member in InOrder(value))
        {
            if (!first)
                output.Write(","u8);
            first = false;
            WriteName(member, output);
            output.Write(":"u8);
            Write(member.Value, output);
        }
        output.Write("}"u8);
    }

    static void WriteName(JsonProperty member, ArrayBufferWriter<byte> output)
    {
        var raw = JsonMarshal.GetRawUtf8PropertyName(member);
        if (!IsCanonical(raw))
        {
            WriteString(Name(member), output);
            return;
        }
        output.Write("\""u8);
        output.Write(raw);
        output.Write("\""u8);
    }

    static IEnumerable<JsonProperty> InOrder(JsonElement value)
    {
        var members = value.EnumerateObject().ToList();
        for (var i = 0; i < members.Count; i++)
        {
            var name = JsonMarshal.GetRawUtf8PropertyName(members[i]);
            // the bytes of ASCII names are ordered as their UTF-16 is
            var after =
                IsCanonical(name)
                && Ascii.IsValid(name)
                && (i == 0 || JsonMarshal.GetRawUtf8PropertyName(members[i - 1]).SequenceCompareTo(name) < 0);
            if (!after)
                return members.OrderBy(Name, StringComparer.Ordinal);
        }
        return members;
    }

    /// <summary>Nothing in it is escaped, so that it is already as canonical JSON has it.</summary>
    static bool IsCanonical(ReadOnlySpan<byte> text) => !text.Contains((byte)'\\') && Utf8.IsValid(text);

    static string Text(JsonElement value)
    {
        try
        {
            return value.GetString()!;
        }
        catch (InvalidOperationException fault)
        {
            throw new FormatException("A text holds half of a character (a lone surrogate).", fault);
        }
    }

    static string Name(JsonProperty member)
    {
        try
        {
            return member.Name;
        }
        catch (InvalidOperationException fault)
        {
            throw new FormatException("A member's name holds half of a character (a lone surrogate).", fault);
        }
    }

    static void WriteString(string text, ArrayBufferWriter<byte> output)
    {
        var escaped = new StringBuilder(text.Length + 2).Append('"');
        foreach (var c in text)
            _ = c switch
            {
                '"' => escaped.Append("\\\""),
                '\\' => escaped.Append("\\\\"),
                '\b' => escaped.Append("\\b"),
                '\t' => escaped.Append("\\t"),
                '\n' => escaped.Append("\\n"),
                '\f' => escaped.Append("\\f"),
                '\r' => escaped.Append("\\r"),
                < ' ' => escaped.Append("\\u").Append(((int)c).ToString("x4", CultureInfo.InvariantCulture)),
                _ => escaped.Append(c),
            };
        output.Write(Encoding.UTF8.GetBytes(escaped.Append('"').ToString()));
    }

    static void WriteAscii(string text, ArrayBufferWriter<byte> output) => output.Write(Encoding.ASCII.GetBytes(text));
}
