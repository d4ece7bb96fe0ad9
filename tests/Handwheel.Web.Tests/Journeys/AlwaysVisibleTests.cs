using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>
/// Which machine, which job, what is raised by how much and since when, who is signed in, saved or not: on every page of a machine, on
/// every screen, however far the page was scrolled.
/// </summary>
public sealed class AlwaysVisibleTests(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData(1280, 800)]
    [InlineData(800, 1280)]
    [InlineData(390, 844)]
    public async Task The_banner_says_it_all_wherever_the_page_is(int width, int height)
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        var proveOut = await shop.WalkTo("restore.reset");
        await using var context = await browser.Tablet(shop.Address, width, height);
        await context.AddCookiesAsync([shop.TabletCookie]);
        var tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        string[] pages =
        [
            $"/floor/machines/{shop.MachineId}",
            $"/floor/machines/{shop.MachineId}/handoff",
            $"/floor/prove-outs/{proveOut}",
            $"/floor/prove-outs/{proveOut}?step=restore.offset.G54.z",
            $"/floor/prove-outs/{proveOut}?step=ready.signed",
            $"/floor/prove-outs/{proveOut}?step=parking.1",
            "/floor/jobs/1",
        ];
        foreach (var path in pages)
        {
            await tablet.Page.GotoAsync(path);
            await tablet.Page.Locator("main").EvaluateAsync("e => e.scrollTo(0, e.scrollHeight)");
            await Whole(tablet.Page.Locator(".banner .where a"), "Mill 9");
            await Whole(tablet.Page.Locator(".banner .where span"), "Spacer plate");
            await Whole(tablet.Page.Locator(".hazard .first"), "G54 Z still raised 2.0000 in");
            await Whole(tablet.Page.Locator(".hazard .first"), "read ");
            await Whole(tablet.Page.Locator(".banner .person"), "Day setter");
            await Assertions.Expect(tablet.Page.Locator("#saved")).ToContainTextAsync("Saved");
            await Assertions.Expect(tablet.Page.Locator("#saved")).ToBeInViewportAsync(new() { Ratio = 0.99f });
        }
        await tablet.Page.Locator(".not-me").TapAsync();
        await Assertions
            .Expect(tablet.Page.GetByRole(AriaRole.Heading, new() { Name = "Who is here?" }))
            .ToBeVisibleAsync();
    }

    /// <summary>In view from edge to edge, with nothing cut off behind dots.</summary>
    static async Task Whole(ILocator part, string says)
    {
        await Assertions.Expect(part).ToContainTextAsync(says, new() { IgnoreCase = true, UseInnerText = true });
        await Assertions.Expect(part).ToBeInViewportAsync(new() { Ratio = 0.99f });
        var cut = await part.EvaluateAsync<string[]>(
            """
            e => [e, ...e.querySelectorAll("*")]
                .filter(x => x.clientWidth > 0 && getComputedStyle(x).overflowX !== "visible" && x.scrollWidth > x.clientWidth + 1)
                .map(x => x.textContent.trim())
            """
        );
        Assert.True(cut.Length == 0, $"{part.Page.Url}: cut off: {string.Join(" | ", cut)}");
    }
}
