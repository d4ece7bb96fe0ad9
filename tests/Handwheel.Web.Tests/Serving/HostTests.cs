using System.Net;
using Handwheel.Web.Tests.Data;

namespace Handwheel.Web.Tests.Serving;

public sealed class HostTests(ShopApp app) : IClassFixture<ShopApp>
{
    readonly HttpClient client = app.CreateClient(new() { AllowAutoRedirect = false });

    // A wrong content root answers 200 with no bytes.
    [Theory]
    [InlineData("/app.css", "--accent")]
    [InlineData("/fonts/fonts.css", "IBM Plex Sans")]
    [InlineData("/_content/MudBlazor/MudBlazor.min.css?v=9.12.0", ".mud-")]
    [InlineData("/_content/MudBlazor/MudBlazor.min.js?v=9.12.0", "mud")]
    public async Task Style_and_script_come_with_a_body(string path, string holds)
    {
        var answer = await client.GetAsync(path);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains(holds, await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/about")]
    [InlineData("/app.css")]
    [InlineData("/no-such-page")]
    [InlineData("/api/no-such-thing")]
    public async Task Every_answer_says_what_a_browser_may_load(string path)
    {
        var headers = (await client.GetAsync(path)).Headers;
        var policy = Assert.Single(headers.GetValues("Content-Security-Policy"));

        Assert.Contains("script-src 'self';", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Equal("nosniff", Assert.Single(headers.GetValues("X-Content-Type-Options")));
        Assert.Equal("DENY", Assert.Single(headers.GetValues("X-Frame-Options")));
        Assert.False(headers.Contains("Server"));
    }

    [Fact]
    public async Task No_page_holds_a_script_of_its_own()
    {
        var page = await client.GetStringAsync("/about");
        foreach (var script in page.Split("<script").Skip(1))
            Assert.Matches("""^ src="[^"]+"></script>""", script);
        Assert.DoesNotContain(" onclick=", page, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task An_address_that_is_not_there_is_said_in_words()
    {
        var answer = await client.GetAsync("/no-such-page");

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("Nothing at this address", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_interface_answers_with_problem_details()
    {
        var answer = await client.GetAsync("/api/no-such-thing");

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
    }

    [Fact]
    public async Task It_says_that_it_is_well() =>
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/health")).StatusCode);
}
