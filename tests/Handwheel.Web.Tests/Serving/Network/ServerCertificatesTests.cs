using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Handwheel.Data;
using Handwheel.Web.Serving.Network;
using Handwheel.Web.Tests.Sheets;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;

namespace Handwheel.Web.Tests.Serving.Network;

/// <summary>The certificates of HTTPS: who trusts them, for which names, and when they are made anew.</summary>
public sealed class ServerCertificatesTests : IDisposable
{
    static readonly NetworkNames Names = new(
        ["shop-pc", "shop-pc.local", "localhost"],
        [IPAddress.Parse("192.168.7.20"), IPAddress.Loopback, IPAddress.IPv6Loopback],
        []
    );

    readonly string folder = Directory.CreateTempSubdirectory("handwheel-network-").FullName;
    readonly FakeTimeProvider time = new(new DateTimeOffset(2026, 11, 27, 8, 0, 0, TimeSpan.Zero));
    NetworkNames names = Names;

    ServerCertificates Certificates(OwnCertificate? own = null) =>
        new(new KeyFiles(new ShopFolder(folder)), own, () => names, time, NullLogger<ServerCertificates>.Instance);

    [Theory]
    [InlineData("shop-pc")]
    [InlineData("shop-pc.local")]
    [InlineData("192.168.7.20")]
    [InlineData("localhost")]
    [InlineData("127.0.0.1")]
    public async Task A_client_that_trusts_the_shops_root_alone_gets_in_by_each_name(string host)
    {
        var certificates = Certificates();
        Assert.NotNull(await Knock(certificates, host));
    }

    [Fact]
    public async Task A_client_with_the_systems_roots_does_not_get_in_and_neither_does_another_name()
    {
        var certificates = Certificates();
        Assert.Null(await TlsDoor.Knock(certificates.Now(), "shop-pc", null, time.GetUtcNow()));
        Assert.Null(await Knock(certificates, "other-pc"));
        Assert.Null(await Knock(certificates, "192.168.7.21"));
    }

    Task<X509Certificate2?> Knock(ServerCertificates certificates, string host) =>
        TlsDoor.Knock(certificates.Now(), host, certificates.RootCertificate, time.GetUtcNow());

    [Fact]
    public void It_names_the_machine_as_it_is_called_and_serves_nothing_but_https()
    {
        var shown = Certificates().Now().TargetCertificate;
        var has = NetworkCertificates.NamesOf(shown);
        Assert.Equal(Names.Hosts, has.Hosts);
        Assert.Equal(Names.Addresses, has.Addresses);
        var usage = Assert.Single(shown.Extensions.OfType<X509EnhancedKeyUsageExtension>());
        Assert.Equal("1.3.6.1.5.5.7.3.1", Assert.Single(usage.EnhancedKeyUsages.Cast<Oid>()).Value);
        Assert.True(shown.NotAfter - shown.NotBefore <= TimeSpan.FromDays(398));
    }

    [Fact]
    public async Task A_month_before_its_end_a_new_one_is_served_without_a_restart()
    {
        var certificates = Certificates();
        var first = certificates.Now().TargetCertificate.Thumbprint;
        time.Advance(TimeSpan.FromDays(NetworkCertificates.ServerDays - 35));
        Assert.Equal(first, certificates.Now().TargetCertificate.Thumbprint);

        time.Advance(TimeSpan.FromDays(10));
        Assert.NotEqual(first, certificates.Now().TargetCertificate.Thumbprint);
        Assert.NotNull(await Knock(certificates, "shop-pc"));
    }

    [Fact]
    public async Task Twenty_years_later_tablets_that_trusted_the_root_still_get_in()
    {
        var certificates = Certificates();
        var trusted = certificates.RootCertificate;
        for (var year = 0; year < 20; year++)
            time.Advance(TimeSpan.FromDays(365));
        Assert.NotNull(await TlsDoor.Knock(certificates.Now(), "shop-pc", trusted, time.GetUtcNow()));
    }

    [Fact]
    public async Task A_new_address_is_in_the_certificate_a_minute_later()
    {
        var certificates = Certificates();
        Assert.Null(await Knock(certificates, "10.1.2.3"));
        names = Names with { Addresses = [.. Names.Addresses, IPAddress.Parse("10.1.2.3")] };
        time.Advance(TimeSpan.FromMinutes(1));
        Assert.NotNull(await Knock(certificates, "10.1.2.3"));
        Assert.NotNull(await Knock(certificates, "192.168.7.20"));
    }

    [Fact]
    public async Task A_name_that_the_root_may_not_vouch_for_is_left_out_and_the_others_go_on()
    {
        var certificates = Certificates();
        certificates.Now();
        names = Names with { Hosts = [.. Names.Hosts, "shop.example"] };
        time.Advance(TimeSpan.FromMinutes(1));
        Assert.Null(await Knock(certificates, "shop.example"));
        Assert.NotNull(await Knock(certificates, "shop-pc"));
    }

    [Fact]
    public void A_restart_serves_the_same_certificate_and_the_same_root()
    {
        var (before, after) = (Certificates(), Certificates());
        Assert.Equal(before.Now().TargetCertificate.Thumbprint, after.Now().TargetCertificate.Thumbprint);
        Assert.Equal(before.RootCertificate!.Thumbprint, after.RootCertificate!.Thumbprint);
    }

    [Fact]
    public async Task A_root_that_was_made_anew_gets_a_server_certificate_of_its_own()
    {
        Certificates().Now();
        File.Delete(Path.Combine(folder, "keys", "network-root.key"));
        var certificates = Certificates();
        Assert.NotNull(await Knock(certificates, "shop-pc"));
    }

    [Fact]
    public void Its_keys_can_be_read_by_the_service_alone()
    {
        Certificates().Now();
        if (OperatingSystem.IsWindows())
        {
            Assert.Skip("Windows has no such file modes");
            return;
        }
        foreach (var key in Directory.GetFiles(Path.Combine(folder, "keys")))
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(key));
    }

    /// <summary>RFC 5280 as OpenSSL reads it: the chain, the names, the purpose, and that the root vouches for no other site.</summary>
    [Fact]
    public void OpenSSL_agrees()
    {
        var certificates = Certificates();
        var server = Pem("server.pem", certificates.Now().TargetCertificate);
        var root = Pem("root.pem", certificates.RootCertificate!);
        Assert.Equal(0, Verify(root, server, "-verify_hostname", "shop-pc.local").Exit);
        Assert.Equal(0, Verify(root, server, "-verify_ip", "192.168.7.20").Exit);
        Assert.NotEqual(0, Verify(root, server, "-verify_hostname", "bank.example").Exit);

        var kept = new KeyFiles(new ShopFolder(folder)).Read("network-root")!;
        var stolen = NetworkCertificates.MakeServer(kept, new(["bank.example"], [], []), time.GetUtcNow());
        using var forged = X509CertificateLoader.LoadCertificate(stolen.Certificate);
        var (exit, said) = Verify(root, Pem("forged.pem", forged), "-verify_hostname", "bank.example");
        Assert.NotEqual(0, exit);
        Assert.Contains("permitted subtree violation", said, StringComparison.Ordinal);
    }

    string Pem(string name, X509Certificate2 certificate)
    {
        var file = Path.Combine(folder, name);
        File.WriteAllText(file, certificate.ExportCertificatePem());
        return file;
    }

    (int Exit, string Output) Verify(string root, string server, params string[] name) =>
        OutsideTool.Run(
            "openssl",
            [
                "verify",
                "-x509_strict",
                "-no-CApath",
                "-no-CAstore",
                "-attime",
                time.GetUtcNow().ToUnixTimeSeconds().ToString(System.Globalization.CultureInfo.InvariantCulture),
                "-purpose",
                "sslserver",
                "-CAfile",
                root,
                .. name,
                server,
            ]
        );

    [Fact]
    public async Task The_shops_own_certificate_is_served_and_read_anew_when_its_file_changes()
    {
        var file = Path.Combine(folder, "own.pem");
        var (first, root) = WriteOwn(file, new DateTime(2026, 11, 1, 0, 0, 0, DateTimeKind.Utc));
        var certificates = Certificates(new OwnCertificate(file, null, null));
        Assert.True(certificates.IsShopsOwn);
        Assert.Null(certificates.RootCertificate);
        var shown = await TlsDoor.Knock(certificates.Now(), "shop-pc", root, time.GetUtcNow());
        Assert.Equal(first.Thumbprint, shown?.Thumbprint);

        var (second, _) = WriteOwn(file, new DateTime(2026, 11, 2, 0, 0, 0, DateTimeKind.Utc));
        time.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(second.Thumbprint, certificates.Now().TargetCertificate.Thumbprint);

        await File.WriteAllTextAsync(file, "half a fi");
        time.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(second.Thumbprint, certificates.Now().TargetCertificate.Thumbprint);
    }

    (X509Certificate2 Server, X509Certificate2 Root) WriteOwn(string file, DateTime changed)
    {
        var root = NetworkCertificates.MakeRoot(Names, time.GetUtcNow());
        var made = NetworkCertificates.WithKey(NetworkCertificates.MakeServer(root, Names, time.GetUtcNow()));
        using var key = made.GetECDsaPrivateKey()!;
        File.WriteAllText(file, made.ExportCertificatePem() + "\n" + key.ExportPkcs8PrivateKeyPem() + "\n");
        File.SetLastWriteTimeUtc(file, changed);
        return (made, X509CertificateLoader.LoadCertificate(root.Certificate));
    }

    [Theory]
    [InlineData("own.pem")]
    [InlineData("own.pfx")]
    public void A_file_that_holds_no_certificate_stops_the_start_in_words(string name)
    {
        var file = Path.Combine(folder, name);
        File.WriteAllText(file, "not a certificate");
        var refused = Assert.Throws<ShopCannotStart>(() => Certificates(new OwnCertificate(file, null, null)).Now());
        Assert.StartsWith(file + ": found no certificate", refused.Message, StringComparison.Ordinal);
        Assert.Contains("HANDWHEEL_CERTIFICATE", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_pfx_with_its_password_is_served()
    {
        var root = NetworkCertificates.MakeRoot(Names, time.GetUtcNow());
        using var made = NetworkCertificates.WithKey(NetworkCertificates.MakeServer(root, Names, time.GetUtcNow()));
        var file = Path.Combine(folder, "own.pfx");
        File.WriteAllBytes(file, made.Export(X509ContentType.Pfx, "a long word"));
        var served = Certificates(new OwnCertificate(file, null, "a long word")).Now();
        Assert.Equal(made.Thumbprint, served.TargetCertificate.Thumbprint);
        Assert.Throws<ShopCannotStart>(() => Certificates(new OwnCertificate(file, null, "another word")).Now());
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);
}
