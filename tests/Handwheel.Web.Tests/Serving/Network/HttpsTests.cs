using System.Net.Http.Headers;
using System.Security.Authentication;
using System.Security.Cryptography.X509Certificates;
using Handwheel.Jobs.Records;
using Handwheel.Web.Tests.Sheets;

namespace Handwheel.Web.Tests.Serving.Network;

/// <summary>The app as people start it, over HTTPS, with what it hands to a tablet.</summary>
public sealed class HttpsTests
{
    const string Both = "http://127.0.0.1:0;https://127.0.0.1:0";

    [Fact]
    public async Task Who_trusts_the_root_that_it_hands_out_gets_in_and_nobody_else_does()
    {
        await using var app = await RunningApp.Start(RunningApp.Executable, Both);
        using var plain = new HttpClient { BaseAddress = new Uri(app.Address) };
        var handed = await plain.GetAsync("/trust-this-shop/root.cer");
        Assert.Equal("application/x-x509-ca-cert", handed.Content.Headers.ContentType?.MediaType);
        Assert.Equal("attachment", handed.Content.Headers.ContentDisposition?.DispositionType);
        var bytes = await handed.Content.ReadAsByteArrayAsync();
        var print = ShopKeys.Fingerprint(bytes);
        Assert.Contains(app.Said, line => line.EndsWith(print, StringComparison.Ordinal));
        Assert.Contains(print, await plain.GetStringAsync("/trust-this-shop"), StringComparison.Ordinal);

        using var root = X509CertificateLoader.LoadCertificate(bytes);
        using var trusting = new HttpClient(Trusting(root));
        var answer = await trusting.GetAsync(new Uri(app.HttpsAddress, "/about"));
        answer.EnsureSuccessStatusCode();
        // While the plain page that hands the root out is served, a browser must not be told to shun it.
        Assert.False(answer.Headers.Contains("Strict-Transport-Security"));

        using var usual = new HttpClient();
        var refused = await Assert.ThrowsAsync<HttpRequestException>(() => usual.GetAsync(app.HttpsAddress));
        Assert.IsType<AuthenticationException>(refused.InnerException);
    }

    /// <summary>A handshake that is not ours: OpenSSL's client with the root as PEM.</summary>
    [Fact]
    public async Task OpenSSL_gets_in_with_the_root_and_not_without()
    {
        await using var app = await RunningApp.Start(RunningApp.Executable, Both);
        using var plain = new HttpClient { BaseAddress = new Uri(app.Address) };
        var root = OutsideTool.Keep("network-root.pem", await plain.GetByteArrayAsync("/trust-this-shop/root.pem"));
        var client =
            $"openssl s_client -connect {app.HttpsAddress.Authority} -verify_return_error -verify_ip 127.0.0.1 -no-CApath -no-CAstore";
        Assert.Contains(
            "Verify return code: 0 (ok)",
            OutsideTool.Run("sh", "-c", $"{client} -CAfile {root} </dev/null").Output,
            StringComparison.Ordinal
        );
        Assert.NotEqual(0, OutsideTool.Run("sh", "-c", $"{client} -no-CAfile </dev/null").Exit);
    }

    [Fact]
    public async Task Over_https_alone_a_browser_is_told_never_to_try_anything_else()
    {
        await using var app = await RunningApp.Start(RunningApp.Executable, "https://127.0.0.1:0");
        using var seeing = new HttpClient(
            new SocketsHttpHandler
            {
                SslOptions = { RemoteCertificateValidationCallback = (_, shown, _, _) => shown is not null },
            }
        );
        // The rule is never sent for a machine's own loopback names.
        var asked = new HttpRequestMessage(HttpMethod.Get, new Uri(app.HttpsAddress, "/about"))
        {
            Headers = { Host = "shop-pc" },
        };
        var answer = await seeing.SendAsync(asked);
        Assert.Equal("max-age=31536000", Assert.Single(answer.Headers.GetValues("Strict-Transport-Security")));
    }

    [Fact]
    public async Task A_server_without_https_says_so_on_the_page_and_hands_nothing_out()
    {
        await using var app = await RunningApp.Start(RunningApp.Executable);
        using var plain = new HttpClient { BaseAddress = new Uri(app.Address) };
        Assert.Contains(
            "does not serve HTTPS now",
            await plain.GetStringAsync("/trust-this-shop"),
            StringComparison.Ordinal
        );
        Assert.Equal(
            System.Net.HttpStatusCode.NotFound,
            (await plain.GetAsync("/trust-this-shop/root.cer")).StatusCode
        );
    }

    [Theory]
    [InlineData("shop-pc:5080", true)]
    [InlineData("192.168.7.20:5080", true)]
    [InlineData("localhost:5080", false)]
    public async Task A_page_that_came_over_plain_http_from_another_machine_says_what_cannot_work(
        string host,
        bool says
    )
    {
        await using var app = await RunningApp.Start(RunningApp.Executable);
        using var plain = new HttpClient { BaseAddress = new Uri(app.Address) };
        var asked = new HttpRequestMessage(HttpMethod.Get, "/floor/sign-in") { Headers = { Host = host } };
        asked.Headers.Accept.Add(new MediaTypeWithQualityHeaderValue("text/html"));
        var page = await (await plain.SendAsync(asked)).Content.ReadAsStringAsync();
        Assert.Equal(says, page.Contains("came over plain HTTP", StringComparison.Ordinal));
    }

    static SocketsHttpHandler Trusting(X509Certificate2 root)
    {
        var policy = new X509ChainPolicy
        {
            TrustMode = X509ChainTrustMode.CustomRootTrust,
            RevocationMode = X509RevocationMode.NoCheck,
        };
        policy.CustomTrustStore.Add(root);
        return new SocketsHttpHandler { SslOptions = { CertificateChainPolicy = policy } };
    }
}
