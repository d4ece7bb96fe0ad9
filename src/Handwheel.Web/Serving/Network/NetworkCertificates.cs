using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Handwheel.Jobs.Records;

namespace Handwheel.Web.Serving.Network;

/// <summary>Makes the root that tablets trust and the server's certificate below it (ECDSA P-256). Bytes in, bytes out.</summary>
/// <remarks>
/// It is another root than that of the records: the records' root is checked for decades and may go on paper, this one sits
/// in the trust store of every tablet, may vouch for nothing but names of the shop's network, and can be made anew at the
/// cost of a walk round the tablets.
/// </remarks>
public static class NetworkCertificates
{
    public const int RootYears = 25;

    /// <summary>Below the 398 days that some clients ask of a server's certificate.</summary>
    public const int ServerDays = 397;

    /// <summary>A tablet's clock may be behind.</summary>
    static readonly TimeSpan Earlier = TimeSpan.FromDays(1);

    public static KeyAndCertificate MakeRoot(NetworkNames names, DateTimeOffset now)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var subject = Name($"Handwheel network root, {names.Hosts[0]}");
        var request = new CertificateRequest(subject, key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, true, 0, true));
        request.CertificateExtensions.Add(
            new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign | X509KeyUsageFlags.CrlSign, true)
        );
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, false));
        request.CertificateExtensions.Add(NameConstraints.For(names).ToExtension());
        using var certificate = request.CreateSelfSigned(now - Earlier, now.AddYears(RootYears));
        return new(key.ExportPkcs8PrivateKey(), certificate.RawData);
    }

    /// <param name="names">Only such as the root permits.</param>
    public static KeyAndCertificate MakeServer(KeyAndCertificate root, NetworkNames names, DateTimeOffset now)
    {
        using var rootKey = ECDsa.Create();
        rootKey.ImportPkcs8PrivateKey(root.Key, out _);
        using var rootPublic = X509CertificateLoader.LoadCertificate(root.Certificate);
        using var issuer = rootPublic.CopyWithPrivateKey(rootKey);
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest(Name("Handwheel server"), key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, true));
        request.CertificateExtensions.Add(
            new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.1", "server authentication")], false)
        );
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, false));
        request.CertificateExtensions.Add(
            X509AuthorityKeyIdentifierExtension.CreateFromCertificate(issuer, true, false)
        );
        request.CertificateExtensions.Add(AlternativeNames(names));
        var (from, until) = (now - Earlier, now.AddDays(ServerDays) - Earlier);
        var (first, last) = (Moment(issuer.NotBefore), Moment(issuer.NotAfter));
        using var certificate = request.Create(
            issuer,
            from > first ? from : first,
            until < last ? until : last,
            Serial()
        );
        return new(key.ExportPkcs8PrivateKey(), certificate.RawData);
    }

    /// <summary>Certificate and key as the system's TLS takes them.</summary>
    public static X509Certificate2 WithKey(KeyAndCertificate server)
    {
        using var key = ECDsa.Create();
        key.ImportPkcs8PrivateKey(server.Key, out _);
        using var bare = X509CertificateLoader.LoadCertificate(server.Certificate);
        using var joined = bare.CopyWithPrivateKey(key);
        // Windows serves no key that lives in memory alone.
        return X509CertificateLoader.LoadPkcs12(joined.Export(X509ContentType.Pfx), null);
    }

    public static NetworkNames NamesOf(X509Certificate2 server)
    {
        var names = server.Extensions.OfType<X509SubjectAlternativeNameExtension>().Single();
        return new([.. names.EnumerateDnsNames()], [.. names.EnumerateIPAddresses()], []);
    }

    static X509Extension AlternativeNames(NetworkNames names)
    {
        var builder = new SubjectAlternativeNameBuilder();
        foreach (var host in names.Hosts)
            builder.AddDnsName(host);
        foreach (var address in names.Addresses)
            builder.AddIpAddress(address);
        return builder.Build();
    }

    static DateTimeOffset Moment(DateTime local) => new(local.ToUniversalTime());

    static X500DistinguishedName Name(string commonName)
    {
        var builder = new X500DistinguishedNameBuilder();
        builder.AddCommonName(commonName);
        return builder.Build();
    }

    static byte[] Serial()
    {
        var serial = RandomNumberGenerator.GetBytes(16);
        serial[0] = (byte)((serial[0] & 0x7F) | 0x40);
        return serial;
    }
}
