using System.Net.Security;
using System.Security.Cryptography.X509Certificates;
using Handwheel.Data;
using Handwheel.Jobs.Records;

namespace Handwheel.Web.Serving.Network;

/// <summary>
/// What the server shows on HTTPS: the shop's own certificate where there is one, else one that is made here below a root made
/// here. Asked at every connection, so a new one is served without a restart: a month before the old one ends, when the
/// machine's names or addresses change, or when the shop's file does.
/// </summary>
/// <param name="own">The shop's own; null: one is made.</param>
/// <param name="namesNow">What the machine is called at the moment.</param>
public sealed class ServerCertificates(
    KeyFiles files,
    OwnCertificate? own,
    Func<NetworkNames> namesNow,
    TimeProvider time,
    ILogger<ServerCertificates> log
)
{
    const string Root = "network-root";
    const string Server = "network-server";

    /// <summary>The root is made anew this long before it ends: tablets have to be walked round.</summary>
    static readonly TimeSpan RootRenewBefore = TimeSpan.FromDays(90);
    static readonly TimeSpan RenewBefore = TimeSpan.FromDays(30);
    static readonly TimeSpan LookEvery = TimeSpan.FromMinutes(1);

    readonly Lock one = new();
    SslStreamCertificateContext? served;
    X509Certificate2? root;
    DateTimeOffset lookedAt;
    DateTime ownReadAt;
    string leftOutSaid = "";

    /// <summary>True: tablets trust who made the shop's own certificate; there is no root to hand out.</summary>
    public bool IsShopsOwn => own is not null;

    /// <summary>The root that tablets trust, or null where the shop has its own certificate.</summary>
    public X509Certificate2? RootCertificate
    {
        get
        {
            Now();
            return root;
        }
    }

    /// <summary>The certificate to show now, with those that vouch for it below the root.</summary>
    /// <exception cref="ShopCannotStart">At the first call: the shop's own certificate cannot be read, or no key can be kept.</exception>
    public SslStreamCertificateContext Now()
    {
        lock (one)
        {
            var now = time.GetUtcNow();
            if (served is not null && now >= lookedAt && now < lookedAt + LookEvery)
                return served;
            served = own is null ? Made(now) : Own(own);
            lookedAt = now;
            return served;
        }
    }

    SslStreamCertificateContext Own(OwnCertificate file)
    {
        var changed = file.ChangedAt;
        if (served is not null && changed == ownReadAt)
            return served;
        try
        {
            var read = file.Load();
            ownReadAt = changed;
            return read;
        }
        catch (ShopCannotStart e) when (served is not null)
        {
            // A file that is being written: the one before goes on, and the next look reads it.
            log.LogWarning("The certificate served so far stays: {Reason}", e.Message);
            return served;
        }
    }

    SslStreamCertificateContext Made(DateTimeOffset now)
    {
        try
        {
            var names = namesNow();
            var kept = files.Read(Root);
            if (kept is null || now > EndOf(kept) - RootRenewBefore)
                kept = files.Write(Root, NetworkCertificates.MakeRoot(names, now));
            if (root is null || !root.RawDataMemory.Span.SequenceEqual(kept.Certificate))
                root = X509CertificateLoader.LoadCertificate(kept.Certificate);
            var permitted = Permitted(root, names);
            var server = files.Read(Server);
            if (server is null || !Serves(server, root, permitted, now))
                server = files.Write(Server, NetworkCertificates.MakeServer(kept, permitted, now));
            return served is not null && served.TargetCertificate.RawDataMemory.Span.SequenceEqual(server.Certificate)
                ? served
                : SslStreamCertificateContext.Create(NetworkCertificates.WithKey(server), null, offline: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            if (served is null)
                throw new ShopCannotStart($"The key for HTTPS cannot be kept: {e.Message}", e);
            log.LogWarning("The certificate for HTTPS could not be renewed: {Reason}", e.Message);
            return served;
        }
    }

    static bool Serves(KeyAndCertificate server, X509Certificate2 root, NetworkNames names, DateTimeOffset now)
    {
        using var certificate = X509CertificateLoader.LoadCertificate(server.Certificate);
        var has = NetworkCertificates.NamesOf(certificate);
        return certificate.NotBefore.ToUniversalTime() <= now.UtcDateTime
            && certificate.NotAfter.ToUniversalTime() > (now + RenewBefore).UtcDateTime
            && has.Hosts.ToHashSet(StringComparer.Ordinal).SetEquals(names.Hosts)
            && has.Addresses.ToHashSet().SetEquals(names.Addresses)
            && IsOf(certificate, root);
    }

    static bool IsOf(X509Certificate2 certificate, X509Certificate2 root)
    {
        using var chain = new X509Chain();
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.Add(root);
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.DisableCertificateDownloads = true;
        chain.ChainPolicy.VerificationTime = certificate.NotBefore;
        return chain.Build(certificate);
    }

    /// <summary>One name that the root may not vouch for would make the whole certificate worthless, so it is left out and said.</summary>
    NetworkNames Permitted(X509Certificate2 by, NetworkNames names)
    {
        var limits = NameConstraints.Of(by);
        var leftOut = names
            .Hosts.Where(h => !limits.Permits(h))
            .Concat(names.Addresses.Where(a => !limits.Permits(a)).Select(a => a.ToString()))
            .ToList();
        var said = string.Join(", ", leftOut);
        if (said.Length > 0 && said != leftOutSaid)
            log.LogWarning(
                "HTTPS does not answer to {Names}: the shop's network root was made before this machine was called so. Remove network-root.key from the folder of keys and start again to make a new root; every tablet then has to trust it anew.",
                said
            );
        leftOutSaid = said;
        return names with
        {
            Hosts = [.. names.Hosts.Where(limits.Permits)],
            Addresses = [.. names.Addresses.Where(limits.Permits)],
        };
    }

    static DateTimeOffset EndOf(KeyAndCertificate kept)
    {
        using var certificate = X509CertificateLoader.LoadCertificate(kept.Certificate);
        return new DateTimeOffset(certificate.NotAfter.ToUniversalTime());
    }
}
