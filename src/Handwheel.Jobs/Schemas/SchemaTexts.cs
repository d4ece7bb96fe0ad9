namespace Handwheel.Jobs.Schemas;

/// <summary>The published JSON Schemas (2020-12) of the formats that the app reads and writes, byte for byte.</summary>
public static class SchemaTexts
{
    /// <summary><c>handwheel-setup/1</c>, published at <c>/schemas/handwheel-setup-1.json</c>.</summary>
    public static byte[] Setup => Read("handwheel-setup-1");

    /// <summary><c>handwheel-check/1</c>, published at <c>/schemas/handwheel-check-1.json</c>.</summary>
    public static byte[] Check => Read("handwheel-check-1");

    /// <summary><c>handwheel-record/1</c>, published at <c>/schemas/handwheel-record-1.json</c>.</summary>
    public static byte[] Record => Read("handwheel-record-1");

    /// <summary><c>handwheel-cutting/1</c>, published at <c>/schemas/handwheel-cutting-1.json</c>.</summary>
    public static byte[] Cutting => Read("handwheel-cutting-1");

    /// <summary>File names under <c>/schemas/</c>.</summary>
    public static IReadOnlyList<string> Names { get; } =
    [
        .. typeof(SchemaTexts)
            .Assembly.GetManifestResourceNames()
            .Where(n => n.StartsWith("schemas/", StringComparison.Ordinal))
            .Select(n => n["schemas/".Length..])
            .Order(StringComparer.Ordinal),
    ];

    /// <summary>The text of one of <see cref="Names"/>; null where there is no such schema.</summary>
    public static byte[]? Find(string fileName) =>
        Names.Contains(fileName) ? Read(Path.GetFileNameWithoutExtension(fileName)) : null;

    static byte[] Read(string name)
    {
        using var stream =
            typeof(SchemaTexts).Assembly.GetManifestResourceStream($"schemas/{name}.json")
            ?? throw new InvalidOperationException($"The schema {name} is not in the app.");
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    }
}
