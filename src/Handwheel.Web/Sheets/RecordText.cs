using System.Globalization;
using System.Text.Json;

namespace Handwheel.Web.Sheets;

/// <summary>Reads the members of a record for printing; a member that is not there prints as nothing.</summary>
static class RecordText
{
    public static string Text(this JsonElement from, string member) =>
        from.ValueKind == JsonValueKind.Object && from.TryGetProperty(member, out var value)
            ? value.ValueKind switch
            {
                JsonValueKind.String => Ink.Printable(value.GetString()!),
                JsonValueKind.Null => "",
                JsonValueKind.True => "yes",
                JsonValueKind.False => "",
                _ => value.GetRawText(),
            }
            : "";

    public static IEnumerable<JsonElement> List(this JsonElement from, string member) =>
        from.TryGetProperty(member, out var value) && value.ValueKind == JsonValueKind.Array
            ? value.EnumerateArray()
            : [];

    public static JsonElement Part(this JsonElement from, string member) =>
        from.ValueKind == JsonValueKind.Object && from.TryGetProperty(member, out var value) ? value : default;

    /// <summary><c>2026-03-04 14:12:05 Europe/Berlin</c>: the shop's time where the zone is known here, else UTC.</summary>
    public static string When(this JsonElement from, string member = "at")
    {
        var text = from.Text(member);
        return DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at)
            ? When(at, from.Text("zone"))
            : text;
    }

    public static string When(DateTimeOffset at, string zone)
    {
        var known = TimeZoneInfo.TryFindSystemTimeZoneById(zone, out var here);
        var local = known ? TimeZoneInfo.ConvertTime(at, here!) : at.ToUniversalTime();
        return local.ToString("yyyy-MM-dd HH:mm:ss ", CultureInfo.InvariantCulture)
            + (known && !zone.EndsWith("UTC", StringComparison.Ordinal) ? zone : "UTC");
    }
}
