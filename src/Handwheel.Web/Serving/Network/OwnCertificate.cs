using System.Net.Security;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Handwheel.Data;
using Handwheel.Web.Hosting;

namespace Handwheel.Web.Serving.Network;

/// <summary>The shop's own certificate, from a file that somebody else renews: read anew when the file changes.</summary>
/// <param name="File">PKCS#12 (<c>.pfx</c>, <c>.p12</c>), or PEM with the certificate first and those that vouch for it after it.</param>
/// <param name="KeyFile">The PEM file with the private key; null: it is in <paramref name="File"/>.</param>
/// <param name="Password">Of the PKCS#12 file or of the key; null: none.</param>
public sealed record OwnCertificate(string File, string? KeyFile, string? Password)
{
    /// <summary>From <c>--certificate</c>, <c>Handwheel:Certificate</c> or <c>HANDWHEEL_CERTIFICATE</c>, and the same with <c>Key</c> and <c>Password</c>; null: the shop has none.</summary>
    public static OwnCertificate? From(IConfiguration configuration) =>
        Setting.Of(configuration, "Certificate") is { } file
            ? new(
                Path.GetFullPath(file),
                Setting.Of(configuration, "CertificateKey", "CERTIFICATE_KEY") is { } key
                    ? Path.GetFullPath(key)
                    : null,
                Setting.Of(configuration, "CertificatePassword", "CERTIFICATE_PASSWORD")
            )
            : null;

    /// <summary>When a file changed last; what is read again when it moves.</summary>
    public DateTime ChangedAt => new[] { File, KeyFile ?? File }.Max(System.IO.File.GetLastWriteTimeUtc);

    /// <exception cref="ShopCannotStart">With the file and what is wrong with it.</exception>
    public SslStreamCertificateContext Load()
    {
        try
        {
            var all = IsPkcs12 ? Pkcs12() : Pem();
            var leaf =
                all.FirstOrDefault(c => c.HasPrivateKey)
                ?? throw new CryptographicException("no certificate in it comes with its private key");
            return SslStreamCertificateContext.Create(leaf, [.. all.Where(c => c != leaf)], offline: true);
        }
        catch (Exception e) when (e is CryptographicException or IOException or UnauthorizedAccessException)
        {
            throw new ShopCannotStart(
                $"{File}: found no certificate to serve HTTPS with ({e.Message.TrimEnd('.')}), expected a .pfx file, or a .pem file with certificate and private key (HANDWHEEL_CERTIFICATE, and HANDWHEEL_CERTIFICATE_KEY where the key has a file of its own)",
                e
            );
        }
    }

    bool IsPkcs12 => Path.GetExtension(File).ToLowerInvariant() is ".pfx" or ".p12";

    X509Certificate2Collection Pkcs12() => X509CertificateLoader.LoadPkcs12CollectionFromFile(File, Password);

    X509Certificate2Collection Pem()
    {
        using var bare = Password is null
            ? X509Certificate2.CreateFromPemFile(File, KeyFile ?? File)
            : X509Certificate2.CreateFromEncryptedPemFile(File, Password, KeyFile ?? File);
        var all = new X509Certificate2Collection();
        all.ImportFromPemFile(File);
        // Windows serves no key that lives in memory alone.
        all[0] = X509CertificateLoader.LoadPkcs12(bare.Export(X509ContentType.Pfx), null);
        return all;
    }
}
