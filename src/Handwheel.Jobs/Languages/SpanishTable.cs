using System.Collections.Frozen;
using System.Reflection;
using System.Text.Json;

namespace Handwheel.Jobs.Languages;

/// <summary>A translated text.</summary>
/// <param name="Waits">What somebody has yet to do before it can be relied on; null: nothing.</param>
public sealed record Translation(string Text, string? Waits);

/// <summary>
/// The Spanish texts, from the files of the folder <c>Spanish</c> that are carried in the assembly: <c>{ "English": { "es": …, "waits": … } }</c>.
/// </summary>
public static class SpanishTable
{
    static readonly Lazy<FrozenDictionary<string, Translation>> Read = new(() => ReadAll("spanish/"));
    static readonly Lazy<FrozenDictionary<string, Translation>> ReadKept = new(() => ReadAll("kept-spanish/"));

    public static IReadOnlyDictionary<string, Translation> All => Read.Value;

    /// <summary>Of texts that are kept in English and said later, from the folder <c>Spanish/Kept</c>.</summary>
    public static IReadOnlyDictionary<string, Translation> Kept => ReadKept.Value;

    internal static string? Find(string key) => Read.Value.GetValueOrDefault(key)?.Text;

    static FrozenDictionary<string, Translation> ReadAll(string prefix)
    {
        var here = Assembly.GetExecutingAssembly();
        var texts = new Dictionary<string, Translation>(StringComparer.Ordinal);
        foreach (var name in here.GetManifestResourceNames().Where(n => n.StartsWith(prefix, StringComparison.Ordinal)))
        {
            using var file = JsonDocument.Parse(here.GetManifestResourceStream(name)!);
            foreach (var text in file.RootElement.EnumerateObject())
                texts.Add(
                    text.Name,
                    new(
                        text.Value.GetProperty("es").GetString()!,
                        text.Value.TryGetProperty("waits", out var waits) ? waits.GetString() : null
                    )
                );
        }
        return texts.ToFrozenDictionary(StringComparer.Ordinal);
    }
}
