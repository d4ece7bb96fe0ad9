using Handwheel.Web.Features.Floor;

namespace Handwheel.Web.Tests.Features.Floor;

/// <summary>Where a person goes after they signed in: where they were, on this server, and never to a page that signing in leaves.</summary>
public sealed class WayBackTests
{
    [Theory]
    [InlineData("/floor/prove-outs/1?step=ready.table", "/floor/prove-outs/1?step=ready.table")]
    [InlineData("/floor/sign-in?return=/floor/no-connection", "/floor")]
    [InlineData("/floor/no-connection?language=es", "/floor")]
    [InlineData("//elsewhere.example/floor", "/floor")]
    [InlineData("/\\elsewhere.example", "/floor")]
    [InlineData("https://elsewhere.example/", "/floor")]
    [InlineData("", "/floor")]
    [InlineData(null, "/floor")]
    public void The_way_back_is_a_page_of_this_server_that_asks_for_no_sign_in_again(string? asked, string back) =>
        Assert.Equal(back, FloorEndpoints.Back(asked));
}
