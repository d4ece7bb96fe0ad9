using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Handwheel.Jobs.Records;

/// <summary>A private key (PKCS#8) and its certificate (DER).</summary>
public sealed record KeyAndCertificate(byte[] Key, byte[] Certificate);

/// <summary>
/// Makes the shop's root and the certificates that sign records (ECDSA, P-256), and gives signers from them. Bytes in, bytes
/// out: a rotation is another leaf from the same root, and records signed with the old one still verify.
/// </summary>
public static class ShopKeys
{
    /// <param name="shop">The shop's name as it stands in the certificate.</param>
    public static KeyAndCertificate MakeRoot(string shop, DateTimeOffset from, int years = 30)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest(Name($"{shop} records root"), key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, true, 0, true));
        request.CertificateExtensions.Add(
            new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign | X509KeyUsageFlags.CrlSign, true)
        );
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, false));
        using var certificate = request.CreateSelfSigned(from, from.AddYears(years));
        return new(key.ExportPkcs8PrivateKey(), certificate.RawData);
    }

    /// <param name="name">What signs: <c>Handwheel server 1</c>.</param>
    public static KeyAndCertificate MakeLeaf(KeyAndCertificate root, string name, DateTimeOffset from, int years = 3)
    {
        using var rootKey = Import(root.Key);
        using var rootPublic = X509CertificateLoader.LoadCertificate(root.Certificate);
        using var issuer = rootPublic.CopyWithPrivateKey(rootKey);
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest(Name(name), key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, true));
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, false));
        request.CertificateExtensions.Add(
            X509AuthorityKeyIdentifierExtension.CreateFromCertificate(issuer, true, false)
        );
        var until = from.AddYears(years);
        var end = new DateTimeOffset(issuer.NotAfter.ToUniversalTime());
        using var certificate = request.Create(issuer, from, until < end ? until : end, Serial());
        return new(key.ExportPkcs8PrivateKey(), certificate.RawData);
    }

    /// <summary>The caller disposes key and certificates.</summary>
    public static RecordSigner Signer(KeyAndCertificate leaf, byte[] rootCertificate) =>
        new(
            Import(leaf.Key),
            [
                X509CertificateLoader.LoadCertificate(leaf.Certificate),
                X509CertificateLoader.LoadCertificate(rootCertificate),
            ]
        );

    /// <summary>SHA-256 of the certificate, in pairs: <c>3F:A0:…</c>, as on the shop's wall.</summary>
    public static string Fingerprint(ReadOnlySpan<byte> certificate) =>
        string.Join(':', Convert.ToHexString(SHA256.HashData(certificate)).Chunk(2).Select(pair => new string(pair)));

    static ECDsa Import(byte[] key)
    {
        var imported = ECDsa.Create();
        imported.ImportPkcs8PrivateKey(key, out _);
        return imported;
    }

    static X500DistinguishedName Name(string commonName)
    {
        var builder = new X500DistinguishedNameBuilder();
        builder.AddCommonName(commonName);
        return builder.Build();
    }

    static byte[] Serial()
    {
        var serial = RandomNumberGenerator.GetBytes(16);
        serial[0] = (byte)(serial[0] & 0x7F | 0x40);
        return serial;
    }
}
