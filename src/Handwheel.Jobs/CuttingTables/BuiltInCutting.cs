namespace Handwheel.Jobs.CuttingTables;

/// <summary>The table that is used where the shop has none of its own. Its figures are those of the sources that it names.</summary>
public static class BuiltInCutting
{
    const string Resource = "cutting/built-in.json";

    static readonly Lazy<byte[]> Bytes = new(() =>
    {
        using var stream = typeof(BuiltInCutting).Assembly.GetManifestResourceStream(Resource)!;
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    });

    static readonly Lazy<CuttingTable> Read = new(() =>
        CuttingFile.ReadCanonical(Bytes.Value, "the built-in cutting table")
    );

    public static CuttingTable Table => Read.Value;

    /// <summary>The table's text, to begin a shop's own from.</summary>
    public static byte[] Text => Bytes.Value;
}
