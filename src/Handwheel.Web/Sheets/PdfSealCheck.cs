using System.Formats.Asn1;
using System.Globalization;
using System.Security.Cryptography;
using System.Security.Cryptography.Pkcs;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using System.Text.RegularExpressions;

namespace Handwheel.Web.Sheets;

/// <summary>What came of checking a PDF's signature.</summary>
/// <param name="Fault">What is not as it was signed, in words; null: nothing.</param>
/// <param name="Chain">The signer's certificate first, the root last; empty with a fault.</param>
public sealed record SealResult(string? Fault, IReadOnlyList<X509Certificate2> Chain);

/// <summary>
/// Checks a PDF that <see cref="PdfSeal"/> signed. Strict: there is one form in which the app signs, and any byte of the
/// file that is another one is a fault, those of the signature's own wrapping included.
/// </summary>
public static partial class PdfSealCheck
{
    internal const string Sha256 = "2.16.840.1.101.3.4.2.1";
    const string EcdsaSha256 = "1.2.840.10045.4.3.2";

    public static SealResult Check(byte[] file)
    {
        try
        {
            var (open, close) = Range(file);
            var cms = Contents(file, open, close);
            var chain = Wrapping(cms);
            var signed = new SignedCms(new ContentInfo(PdfSeal.Covered(file, open, close)), detached: true);
            signed.Decode(cms);
            signed.CheckSignature(verifySignatureOnly: true);
            return new(null, chain);
        }
        catch (Broken e)
        {
            return new(e.Message, []);
        }
        catch (Exception e) when (e is CryptographicException or AsnContentException)
        {
            return new("The signature does not fit the file: something in it was changed after it was signed.", []);
        }
    }

    static (int Open, int Close) Range(byte[] file)
    {
        var text = Encoding.Latin1.GetString(file);
        var ranges = ByteRange().Matches(text);
        if (ranges.Count != 1)
            throw new Broken(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The PDF has {ranges.Count} signatures in the form in which records are signed; a record has 1."
                )
            );
        var numbers = ranges[0]
            .Groups.Values.Skip(1)
            .Select(g => int.Parse(g.Value, CultureInfo.InvariantCulture))
            .ToArray();
        var (open, close) = (numbers[0], numbers[1]);
        if (close != open + PdfSeal.Room + 2 || close > file.Length || text[open] != '<' || text[close - 1] != '>')
            throw new Broken("The signature is not where the file says it is.");
        if (!text.AsSpan(0, open + 1).EndsWith(PdfSeal.ContentsStart, StringComparison.Ordinal))
            throw new Broken("The signature is not where the file says it is.");
        if (close + numbers[2] != file.Length)
            throw new Broken(
                "The signature does not cover the file to its end: something was added or cut off after it was signed."
            );
        return (open, close);
    }

    static byte[] Contents(byte[] file, int open, int close)
    {
        var digits = Encoding.ASCII.GetString(file, open + 1, close - open - 2);
        if (!digits.All(c => c is (>= '0' and <= '9') or (>= 'a' and <= 'f')))
            throw new Broken("The signature is not written in the digits that records are signed with.");
        var bytes = Convert.FromHexString(digits);
        AsnDecoder.ReadEncodedValue(bytes, AsnEncodingRules.DER, out _, out _, out var length);
        if (bytes.AsSpan(length).ContainsAnyExcept((byte)0))
            throw new Broken("Something stands behind the signature in the room that is kept for it.");
        return bytes[..length];
    }

    /// <summary>The parts of the CMS structure that no signature covers must be exactly as the app writes them.</summary>
    static List<X509Certificate2> Wrapping(byte[] cms)
    {
        var outer = new AsnReader(cms, AsnEncodingRules.DER);
        var content = outer.ReadSequence();
        Same(content.ReadObjectIdentifier(), "1.2.840.113549.1.7.2");
        var wrapped = content.ReadSequence(new Asn1Tag(TagClass.ContextSpecific, 0));
        content.ThrowIfNotEmpty();
        var data = wrapped.ReadSequence();
        wrapped.ThrowIfNotEmpty();
        Same(data.ReadInteger().ToString(CultureInfo.InvariantCulture), "1");
        var digests = data.ReadSetOf();
        Same(Algorithm(digests), Sha256);
        digests.ThrowIfNotEmpty();
        var inside = data.ReadSequence();
        Same(inside.ReadObjectIdentifier(), "1.2.840.113549.1.7.1");
        inside.ThrowIfNotEmpty();
        var chain = Certificates(data.ReadSetOf(new Asn1Tag(TagClass.ContextSpecific, 0)));
        var signers = data.ReadSetOf();
        Signer(signers.ReadSequence(), chain[0]);
        signers.ThrowIfNotEmpty();
        data.ThrowIfNotEmpty();
        return chain;
    }

    static void Signer(AsnReader signer, X509Certificate2 leaf)
    {
        Same(signer.ReadInteger().ToString(CultureInfo.InvariantCulture), "1");
        var name = signer.ReadSequence();
        if (!name.ReadEncodedValue().Span.SequenceEqual(leaf.IssuerName.RawData))
            throw new CryptographicException();
        if (!name.ReadIntegerBytes().Span.SequenceEqual(leaf.SerialNumberBytes.Span))
            throw new CryptographicException();
        name.ThrowIfNotEmpty();
        Same(Algorithm(signer), Sha256);
        signer.ReadSetOf(new Asn1Tag(TagClass.ContextSpecific, 0));
        Same(Algorithm(signer), EcdsaSha256);
        signer.ReadOctetString();
        signer.ThrowIfNotEmpty();
    }

    /// <summary>Reads an algorithm that has no parameters.</summary>
    static string Algorithm(AsnReader from)
    {
        var algorithm = from.ReadSequence();
        var oid = algorithm.ReadObjectIdentifier();
        algorithm.ThrowIfNotEmpty();
        return oid;
    }

    /// <summary>Two certificates, the signer's and the root that signed both; no other form is made by the app.</summary>
    static List<X509Certificate2> Certificates(AsnReader set)
    {
        var found = new List<X509Certificate2>();
        while (set.HasData)
            found.Add(X509CertificateLoader.LoadCertificate(set.ReadEncodedValue().Span));
        var root = found.Find(c => c.IssuerName.RawData.AsSpan().SequenceEqual(c.SubjectName.RawData));
        var leaf = found.Find(c => c != root);
        if (found.Count != 2 || root is null || leaf is null)
            throw new Broken("The signature does not carry the signer's certificate and its root.");
        if (
            !SignedBy(root, root)
            || !SignedBy(leaf, root)
            || !leaf.IssuerName.RawData.AsSpan().SequenceEqual(root.SubjectName.RawData)
        )
            throw new Broken("The signer's certificate was not signed by the root that is beside it.");
        return [leaf, root];
    }

    static bool SignedBy(X509Certificate2 certificate, X509Certificate2 issuer)
    {
        var parts = new AsnReader(certificate.RawData, AsnEncodingRules.DER).ReadSequence();
        var body = parts.ReadEncodedValue();
        Same(Algorithm(parts), EcdsaSha256);
        var signature = parts.ReadBitString(out var unused);
        parts.ThrowIfNotEmpty();
        using var key = issuer.GetECDsaPublicKey();
        return unused == 0
            && key is not null
            && key.VerifyData(body.Span, signature, HashAlgorithmName.SHA256, DSASignatureFormat.Rfc3279DerSequence);
    }

    static void Same(string found, string expected)
    {
        if (found != expected)
            throw new CryptographicException($"{found} in place of {expected}");
    }

    [GeneratedRegex(
        "/ByteRange \\[0 (?<open>[0-9]{10}) (?<close>[0-9]{10}) (?<rest>[0-9]{10})\\]",
        RegexOptions.ExplicitCapture,
        1000
    )]
    private static partial Regex ByteRange();

    sealed class Broken(string message) : Exception(message);
}
