namespace Handwheel.Jobs.Records;

/// <summary>
/// The hash of each entry covers the one before it: SHA-256 over a domain byte, the log's id, the entry's number, the
/// previous hash and the digest of the body.
/// </summary>
public static class RecordChain
{
    /// <summary>The hash before the first entry: 32 zero bytes.</summary>
    public static byte[] Start => new byte[32];

    /// <param name="body">The canonical JSON of the entry, exactly as stored.</param>
    public static byte[] Next(Guid log, long number, ReadOnlySpan<byte> previous, ReadOnlySpan<byte> body) =>
        throw new NotSupportedException();
}
