using System.Net;
using Handwheel.Web.Tests.Data;
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
