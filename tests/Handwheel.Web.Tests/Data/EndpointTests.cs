using System.Net;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Handwheel.Web.Tests.Data;

public sealed class EndpointTests(ShopApp app) : IClassFixture<ShopApp>
{
    [Fact]
    public void Every_endpoint_of_the_interface_says_who_may_use_it()
    {
        _ = app.CreateClient();
        var silent = app
            .Services.GetServices<EndpointDataSource>()
            .SelectMany(s => s.Endpoints)
            .OfType<RouteEndpoint>()
            .Where(e => e.RoutePattern.RawText!.StartsWith("/api", StringComparison.Ordinal))
            .Where(e =>
                e.Metadata.GetMetadata<IAuthorizeData>() is null && e.Metadata.GetMetadata<IAllowAnonymous>() is null
            )
            .Select(e => e.RoutePattern.RawText);
        Assert.Empty(silent);
    }

    /// <summary>Who may do what, checked in: a new endpoint of the interface has to be written down here.</summary>
    [Fact]
    public void The_list_of_endpoints_and_policies_is_as_written_down()
    {
        _ = app.CreateClient();
        var found = app
            .Services.GetServices<EndpointDataSource>()
            .SelectMany(s => s.Endpoints)
            .OfType<RouteEndpoint>()
            .Where(e => e.RoutePattern.RawText!.StartsWith("/api", StringComparison.Ordinal))
            .Select(e => $"{Method(e)} {e.RoutePattern.RawText} {Policy(e)}")
            .Order(StringComparer.Ordinal);
        Assert.Equal(
            [
                "GET /api/photos/{sha256:regex(^[0-9a-f]{{64}}$)} SignedIn",
                "GET /api/prove-outs/{id:guid} SignedIn",
                "GET /api/records.csv SignedIn",
                "GET /api/records/root.pem SignedIn",
                "GET /api/records/{proveOut:guid}.csv SignedIn",
                "GET /api/records/{proveOut:guid}.json SignedIn",
                "POST /api/photos ProvesOut",
                "POST /api/prove-outs/{id:guid}/acts ProvesOut",
                "POST /api/sign-in anybody",
                "POST /api/sign-out SignedIn",
            ],
            found
        );
    }

    /// <summary>
    /// Everything that the app answers to and which roles may use it, as the app itself says: pages, files, the tablet's pages and posts.
    /// Written down in <c>endpoints.txt</c> beside this test; <c>HANDWHEEL_WRITE_DOCS=1</c> writes it anew.
    /// </summary>
    [Fact]
    public void Every_endpoint_and_the_roles_that_may_use_it_are_as_written_down()
    {
        _ = app.CreateClient();
        var found = string.Concat(
            Routes().Select(e => $"{Method(e)} {Path(e)}: {Who(e)}\n").Distinct().Order(StringComparer.Ordinal)
        );
        if (Environment.GetEnvironmentVariable("HANDWHEEL_WRITE_DOCS") == "1")
            File.WriteAllText(WrittenDown, found);
        Assert.Equal(File.ReadAllText(WrittenDown), found);
    }

    [Fact]
    public async Task The_tablets_pages_and_posts_ask_for_a_sign_in_themselves()
    {
        var client = app.CreateClient(new() { AllowAutoRedirect = false });
        var asked = 0;
        foreach (var route in Routes().Where(e => Path(e).StartsWith("/floor", StringComparison.Ordinal)))
        {
            var path = Path(route);
            if (Open.Contains(path))
                continue;
            foreach (var method in route.Metadata.GetMetadata<HttpMethodMetadata>()!.HttpMethods)
            {
                var at = path.Replace("{id:guid}", "0192f0c0-0000-7000-8000-000000000000", StringComparison.Ordinal)
                    .Replace("{number:int}", "1", StringComparison.Ordinal);
                using var request = new HttpRequestMessage(new HttpMethod(method), at.TrimEnd('/'));
                request.Headers.Add("Sec-Fetch-Site", "same-origin");
                if (method == "POST")
                    request.Content = new FormUrlEncodedContent([]);
                var answer = await client.SendAsync(request);
                Assert.True(
                    answer.StatusCode == HttpStatusCode.Redirect
                        && answer.Headers.Location!.ToString().StartsWith("/floor/sign-in", StringComparison.Ordinal),
                    $"{method} {at}: {answer.StatusCode} {answer.Headers.Location}"
                );
                asked++;
            }
        }
        Assert.True(asked > 8, $"only {asked} asked");
    }

    /// <summary>
    /// Where a person signs in or out, how the tablet is set, the heartbeat that says who it is taken for, and what every tablet keeps for the
    /// time without connection.
    /// </summary>
    static readonly string[] Open =
    [
        "/floor/sign-in",
        "/floor/not-me",
        "/floor/tablet",
        "/floor/heartbeat",
        "/floor/files.js",
        "/floor/no-connection",
    ];

    static string WrittenDown
    {
        get
        {
            for (
                var folder = AppContext.BaseDirectory;
                folder is not null;
                folder = System.IO.Path.GetDirectoryName(folder)
            )
                if (
                    System.IO.Path.Combine(folder, "tests/Handwheel.Web.Tests/Data") is var here
                    && Directory.Exists(here)
                )
                    return System.IO.Path.Combine(here, "endpoints.txt");
            throw new InvalidOperationException("no tests above " + AppContext.BaseDirectory);
        }
    }

    /// <summary>What the app maps; not the framework's own scripts and the files of wwwroot.</summary>
    IEnumerable<RouteEndpoint> Routes() =>
        app
            .Services.GetServices<EndpointDataSource>()
            .SelectMany(s => s.Endpoints)
            .OfType<RouteEndpoint>()
            .Where(e =>
                e.Metadata.GetMetadata<HttpMethodMetadata>() is not null
                && e.Metadata.All(m => m.GetType().Name is not ("StaticAssetDescriptor" or "HubMetadata"))
                && !Path(e).StartsWith("/_", StringComparison.Ordinal)
            );

    static string Path(RouteEndpoint endpoint) => "/" + endpoint.RoutePattern.RawText!.TrimStart('/');

    static string Who(RouteEndpoint endpoint)
    {
        if (endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null)
            return "anybody";
        if (endpoint.Metadata.GetOrderedMetadata<IAuthorizeData>() is not [.., { Policy: { } policy }])
            return Path(endpoint).StartsWith("/floor", StringComparison.Ordinal) && !Open.Contains(Path(endpoint))
                ? "who is signed in at the tablet; each act asks for its role"
                : "anybody";
        return string.Join(
            ", ",
            Enum.GetValues<Roles>()
                .Where(r => r != Roles.None && Policies.Allows(policy, r))
                .Select(r => r.ToString().ToLowerInvariant())
        );
    }

    static string Method(RouteEndpoint endpoint) =>
        string.Join('|', endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? []);

    static string Policy(RouteEndpoint endpoint) =>
        endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null
            ? "anybody"
            : endpoint.Metadata.GetOrderedMetadata<IAuthorizeData>()[^1].Policy ?? "";

    [Theory]
    [InlineData("GET", "/api/prove-outs/0192f0c0-0000-7000-8000-000000000000")]
    [InlineData("POST", "/api/prove-outs/0192f0c0-0000-7000-8000-000000000000/acts")]
    [InlineData("GET", "/api/records/0192f0c0-0000-7000-8000-000000000000.json")]
    [InlineData("POST", "/api/photos")]
    public async Task Nobody_gets_anything_without_signing_in(string method, string path)
    {
        var client = app.CreateClient(new() { AllowAutoRedirect = false });
        var request = new HttpRequestMessage(new HttpMethod(method), path);
        Assert.Equal(HttpStatusCode.Unauthorized, (await client.SendAsync(request)).StatusCode);
    }
}
