using System.Security.Cryptography;

namespace Handwheel.Data;

/// <summary>The bytes of a program, a setup or a photo, unchanged, under their own digest.</summary>
public class StoredFile
{
    /// <summary>SHA-256 of <see cref="Content"/>, lower-case hex.</summary>
    public required string Sha256 { get; init; }
    public required byte[] Content { get; init; }
    public long Bytes { get; init; }
    public DateTimeOffset KeptAt { get; init; }

    public static string Digest(ReadOnlySpan<byte> content) => Convert.ToHexStringLower(SHA256.HashData(content));

    public static StoredFile Of(byte[] content, DateTimeOffset at) =>
        new()
        {
            Sha256 = Digest(content),
            Content = content,
            Bytes = content.LongLength,
            KeptAt = at,
        };
}
