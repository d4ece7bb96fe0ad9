using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Handwheel.Data;
using Handwheel.Jobs.Records;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Records;

/// <summary>
/// The shop's root and the key that signs records, as files in the shop's folder that the service's account alone can
/// read. Made when they are first needed; whoever has them can sign in the shop's name.
/// </summary>
public sealed class RecordKeys(KeyFiles files, IDbContextFactory<HandwheelDb> databases, TimeProvider time)
    : IDisposable
{
    const string Root = "root";
    const string Leaf = "records";
    static readonly TimeSpan RenewBefore = TimeSpan.FromDays(30);
    readonly SemaphoreSlim one = new(1);

    /// <summary>Signs a record now. The signing certificate is renewed a month before it ends.</summary>
    public async Task<RecordSigner> Signer()
    {
        var (root, leaf) = await Load();
        return ShopKeys.Signer(leaf, root.Certificate);
    }

    /// <summary>The shop's root certificate, for <c>--trust</c> and for the fingerprint on the wall.</summary>
    public async Task<X509Certificate2> RootCertificate() =>
        X509CertificateLoader.LoadCertificate((await Load()).Root.Certificate);

    /// <summary>Makes what is not there yet.</summary>
    public Task Make() => Load();

    async Task<(KeyAndCertificate Root, KeyAndCertificate Leaf)> Load()
    {
        await one.WaitAsync();
        try
        {
            await using var db = await databases.CreateDbContextAsync();
            var shop = (await db.Shop()).ShopName is { Length: > 0 } name ? name : "Handwheel shop";
            var now = time.GetUtcNow();
            var root = files.Read(Root) ?? files.Write(Root, ShopKeys.MakeRoot(shop, now));
            var leaf = files.Read(Leaf);
            if (leaf is null || Ends(leaf) < now + RenewBefore || !IsOf(leaf, root))
                leaf = files.Write(Leaf, ShopKeys.MakeLeaf(root, shop + " records", now));
            return (root, leaf);
        }
        finally
        {
            one.Release();
        }
    }

    /// <summary>False after the root was lost and made anew: what the old one signed does not come from it.</summary>
    static bool IsOf(KeyAndCertificate leaf, KeyAndCertificate root)
    {
        using var signer = X509CertificateLoader.LoadCertificate(leaf.Certificate);
        using var issuer = X509CertificateLoader.LoadCertificate(root.Certificate);
        using var chain = new X509Chain();
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.Add(issuer);
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.DisableCertificateDownloads = true;
        chain.ChainPolicy.VerificationTime = signer.NotBefore;
        return chain.Build(signer);
    }

    static DateTimeOffset Ends(KeyAndCertificate key)
    {
        using var certificate = X509CertificateLoader.LoadCertificate(key.Certificate);
        return new DateTimeOffset(certificate.NotAfter);
    }

    public void Dispose() => one.Dispose();
}
