using System.Net;
using System.Reflection;
using System.Text.RegularExpressions;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.People;
using Handwheel.Web.Features.Records;
using Handwheel.Web.Tests.Data;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;

namespace Handwheel.Web.Tests.Features;

/// <summary>Every page, as a browser without scripts gets it.</summary>
public sealed partial class PagesTests(PagesTests.Shop shop) : IClassFixture<PagesTests.Shop>
{
    public sealed class Shop : ShopApp, IAsyncLifetime
    {
        internal SampleShop Sample { get; private set; } = null!;

        public async ValueTask InitializeAsync() => Sample = await SampleShop.In(Services);
    }

    static readonly Type[] Pages =
    [
        .. typeof(Program).Assembly.GetTypes().Where(t => t.GetCustomAttributes<RouteAttribute>().Any()),
    ];

    public static TheoryData<Type> AllPages => [.. Pages];

    [Fact]
    public void Every_page_says_who_may_see_it() =>
        Assert.All(
            Pages,
            p =>
                Assert.True(
                    p.GetCustomAttribute<AuthorizeAttribute>()?.Policy is not null
                        || p.GetCustomAttribute<AllowAnonymousAttribute>() is not null,
                    p.FullName
                )
        );

    [Theory]
    [MemberData(nameof(AllPages))]
    public async Task Every_page_is_shown_for_a_shop_with_work_in_it(Type page)
    {
        using var browser = shop.CreateClient();
        await shop.Sample.SignIn(browser);
        foreach (var route in page.GetCustomAttributes<RouteAttribute>())
        {
            var answer = await browser.GetAsync(Fill(page, route.Template));
            var text = await answer.Content.ReadAsStringAsync();

            Assert.Contains("<h1", text, StringComparison.Ordinal);
            Assert.DoesNotContain("could not be shown", text, StringComparison.Ordinal);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }
    }

    [Theory]
    [MemberData(nameof(AllPages))]
    public async Task Nothing_can_be_typed_or_pressed_before_somebody_listens(Type page)
    {
        using var browser = shop.CreateClient();
        await shop.Sample.SignIn(browser);
        var waits = page.GetCustomAttribute<ExcludeFromInteractiveRoutingAttribute>() is null;
        foreach (var route in page.GetCustomAttributes<RouteAttribute>())
        {
            var text = await browser.GetStringAsync(Fill(page, route.Template));
            Assert.Equal(waits, Shut().IsMatch(text));
        }
    }

    [GeneratedRegex(
        "<fieldset class=\"page\"[^>]* disabled",
        RegexOptions.ExplicitCapture | RegexOptions.NonBacktracking
    )]
    private static partial Regex Shut();

    [Theory]
    [InlineData("/api/records/{0}.json")]
    [InlineData("/records/{0}.pdf")]
    public async Task The_record_of_an_open_prove_out_keeps_its_readings_to_itself(string address)
    {
        using var browser = shop.CreateClient();
        await shop.Sample.SignIn(browser);

        var answer = await browser.GetAsync(
            string.Format(System.Globalization.CultureInfo.InvariantCulture, address, shop.Sample.ProveOut)
        );

        Assert.False(answer.IsSuccessStatusCode);
        Assert.Contains("typed blind", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(AllPages))]
    public async Task Nobody_sees_a_page_of_the_shop_without_signing_in(Type page)
    {
        if (page.GetCustomAttribute<AllowAnonymousAttribute>() is not null)
            return;
        using var stranger = shop.CreateClient(new() { AllowAutoRedirect = false });
        foreach (var route in page.GetCustomAttributes<RouteAttribute>())
        {
            var answer = await stranger.GetAsync(Fill(page, route.Template));

            Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
            Assert.Equal("/sign-in", answer.Headers.Location!.AbsolutePath);
        }
    }

    string Fill(Type page, string template) =>
        Parameter()
            .Replace(
                template,
                hole =>
                    (hole.Groups["name"].Value, hole.Groups["kind"].Value) switch
                    {
                        ("Number", _) => "1",
                        ("Code", _) => "404",
                        ("Sha256", _) => shop.Sample.ProgramSha256,
                        ("Id", ":guid") when page == typeof(MachineDeskPage) => shop.Sample.Machine.ToString(),
                        ("Id", ":guid") when page == typeof(PersonPage) => shop.Sample.Administrator.ToString(),
                        ("Id", ":guid") when page == typeof(RecordPage) => shop.Sample.ProveOut.ToString(),
                        ("Machine", ":guid") => shop.Sample.Machine.ToString(),
                        ("Id", "") => "no-feed",
                        _ => throw new InvalidOperationException($"{page}: no sample for {hole.Value}"),
                    }
            );

    [GeneratedRegex(@"\{(?<name>\w+)(?<kind>:\w+)?\}", RegexOptions.NonBacktracking)]
    private static partial Regex Parameter();
}
