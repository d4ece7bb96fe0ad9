using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Handwheel.Jobs.Proving;

namespace Handwheel.Jobs.Records;

/// <summary>Entries and acts as canonical JSON and back. An unknown kind or member is refused.</summary>
public static class EntryJson
{
    public static byte[] Write(Entry entry) =>
        CanonicalJson.Of(
            JsonSerializer.SerializeToUtf8Bytes(entry with { At = entry.At.ToUniversalTime() }, JobsJson.Default.Entry)
        );

    /// <exception cref="FormatException">Says what was found and what was expected.</exception>
    public static Entry Read(ReadOnlySpan<byte> json) => Read(json, JobsJson.Default.Entry, "an entry");

    public static byte[] WriteAct(Act act) =>
        CanonicalJson.Of(JsonSerializer.SerializeToUtf8Bytes(act, JobsJson.Default.Act));

    /// <exception cref="FormatException">Says what was found and what was expected.</exception>
    public static Act ReadAct(ReadOnlySpan<byte> json) => Read(json, JobsJson.Default.Act, "an act");

    static T Read<T>(ReadOnlySpan<byte> json, JsonTypeInfo<T> type, string what)
        where T : class
    {
        try
        {
            return JsonSerializer.Deserialize(json, type)
                ?? throw new FormatException($"Found null, expected {what} of a prove-out.");
        }
        catch (Exception fault) when (fault is JsonException or NotSupportedException or InvalidOperationException)
        {
            throw new FormatException($"This is not {what} of a prove-out: {fault.Message}", fault);
        }
    }
}
