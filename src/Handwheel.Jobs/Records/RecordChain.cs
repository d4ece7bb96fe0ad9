using System.Buffers.Binary;
using System.Security.Cryptography;

namespace Handwheel.Jobs.Records;

/// <summary>
/// The hash of each entry covers the one before it: SHA-256 over the domain byte 0x48, the log's id (16 bytes, RFC 9562
/// order), the entry's number (8 bytes, big-endian), the previous hash (32 bytes) and the SHA-256 of the body.
/// </summary>
public static class RecordChain
{
    const byte Domain = 0x48;

    /// <summary>The hash before the first entry: 32 zero bytes.</summary>
    public static byte[] Start => new byte[SHA256.HashSizeInBytes];

    /// <param name="body">The canonical JSON of the entry, exactly as stored.</param>
    public static byte[] Next(Guid log, long number, ReadOnlySpan<byte> previous, ReadOnlySpan<byte> body)
    {
        if (previous.Length != SHA256.HashSizeInBytes)
            throw new ArgumentException("The previous hash has 32 bytes.", nameof(previous));
        Span<byte> covered = stackalloc byte[1 + 16 + 8 + 32 + 32];
        covered[0] = Domain;
        _ = log.TryWriteBytes(covered[1..], bigEndian: true, out _);
        BinaryPrimitives.WriteInt64BigEndian(covered[17..], number);
        previous.CopyTo(covered[25..]);
        SHA256.HashData(body, covered[57..]);
        return SHA256.HashData(covered);
    }
}
