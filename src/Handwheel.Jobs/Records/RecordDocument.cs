using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Handwheel.Jobs.Proving;

namespace Handwheel.Jobs.Records;

/// <summary>Names and figures of a record that are not in the prove-out itself.</summary>
public sealed record RecordOf(
    string Shop,
    string Job,
    string Part,
    string Operation,
    string Revision,
    string CheckSummary
);

/// <summary>Makes the document <c>handwheel-record/1</c>.</summary>
public static class RecordDocument
{
    /// <param name="bodies">The entries' bodies exactly as stored, oldest first.</param>
    /// <param name="made">When the record was made, UTC.</param>
    public static byte[] Make(
        ProveOut proveOut,
        IReadOnlyList<byte[]> bodies,
        RecordOf about,
        DateTimeOffset made,
        RecordSigner signer
    ) => throw new NotSupportedException();
}

/// <summary>Signs with ES256 (RFC 7515, RFC 7518 §3.4).</summary>
/// <param name="Chain">The signer's certificate first, then those up to the root.</param>
public sealed record RecordSigner(ECDsa Key, IReadOnlyList<X509Certificate2> Chain);

/// <summary>Who signed what, and when.</summary>
public sealed record SignatureSeen(
    long Entry,
    string Name,
    string Meaning,
    string What,
    DateTimeOffset At,
    string Zone
);

/// <summary>What a verification found.</summary>
/// <param name="Intact">Signature, chain and content's own digest are right.</param>
/// <param name="SignerConfirmed">The certificate comes from the trusted root; null: no root was given.</param>
/// <param name="Fault">What is broken, in words; null: nothing.</param>
/// <param name="FirstBrokenEntry">Null: no entry is broken.</param>
/// <param name="RootFingerprint">SHA-256 of the root certificate, to compare with the one on the shop's wall.</param>
public sealed record VerifyResult(
    bool Intact,
    bool? SignerConfirmed,
    IReadOnlyList<string> Passed,
    string? Fault,
    long? FirstBrokenEntry,
    IReadOnlyList<SignatureSeen> Signatures,
    string? SignedBy,
    string? RootFingerprint
);

/// <summary>Checks a record with neither database nor network.</summary>
public static class RecordVerifier
{
    public static VerifyResult Verify(ReadOnlyMemory<byte> document, X509Certificate2? trustedRoot) =>
        throw new NotSupportedException();
}
