using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace Handwheel.Jobs.Records;

/// <summary>Compact JWS with ES256 (RFC 7515; RFC 7518 §3.4: the signature is R and S, 32 bytes each).</summary>
public static class Jws
{
    const int SignatureBytes = 64;

    public static string Sign(ReadOnlySpan<byte> header, ReadOnlySpan<byte> payload, ECDsa key)
    {
        var signed = Base64Url.EncodeToString(header) + "." + Base64Url.EncodeToString(payload);
        var signature = key.SignData(
            Encoding.ASCII.GetBytes(signed),
            HashAlgorithmName.SHA256,
            DSASignatureFormat.IeeeP1363FixedFieldConcatenation
        );
        return signed + "." + Base64Url.EncodeToString(signature);
    }

    /// <summary>Header and payload as bytes; false: not three parts of base64url, each in its one form.</summary>
    public static bool TrySplit(string jws, out byte[] header, out byte[] payload, out byte[] signature)
    {
        (header, payload, signature) = ([], [], []);
        var parts = jws.Split('.');
        return parts.Length == 3
            && TryDecode(parts[0], out header)
            && TryDecode(parts[1], out payload)
            && TryDecode(parts[2], out signature);
    }

    /// <summary>True: the signature is the key's, over exactly this header and payload.</summary>
    public static bool Verify(string jws, ECDsa key)
    {
        if (!TrySplit(jws, out _, out _, out var signature) || signature.Length != SignatureBytes)
            return false;
        return key.VerifyData(
            Encoding.ASCII.GetBytes(jws[..jws.LastIndexOf('.')]),
            signature,
            HashAlgorithmName.SHA256,
            DSASignatureFormat.IeeeP1363FixedFieldConcatenation
        );
    }

    static bool TryDecode(string text, out byte[] bytes)
    {
        bytes = [];
        if (!Base64Url.IsValid(text))
            return false;
        bytes = Base64Url.DecodeFromChars(text);
        return Base64Url.EncodeToString(bytes) == text;
    }
}
