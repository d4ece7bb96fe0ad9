namespace Handwheel.Jobs.Records;

/// <summary>JSON in the one form of RFC 8785 (JCS).</summary>
public static class CanonicalJson
{
    /// <exception cref="FormatException">Not JSON, a member twice, a lone surrogate, or a number past the range of a double.</exception>
    public static byte[] Of(ReadOnlySpan<byte> json) => throw new NotSupportedException();
}
