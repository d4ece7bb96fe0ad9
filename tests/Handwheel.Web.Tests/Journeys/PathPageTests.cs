using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>Going through a program at the desk: text, picture and figures stay together.</summary>
public sealed class PathPageTests(DrawingBrowser browser) : IClassFixture<DrawingBrowser>, IAsyncLifetime
{
    readonly JourneyShop shop = new();
    IBrowserContext context = null!;
    IPage page = null!;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        context = await browser.Tablet(shop.Address);
        page = await context.NewPageAsync();
        await DeskPage.SignIn(page);
    }

    ILocator View => page.Locator("#path-view");
    ILocator Here => page.Locator(".path-row.here");
    ILocator Scrub => page.GetByRole(AriaRole.Slider);

    async Task Open(string state = "drawn")
    {
        await page.GotoAsync("/jobs/1/path");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-state", state, new() { Timeout = 30_000 });
    }

    async Task IsAt(int block, int line)
    {
        await Assertions.Expect(View).ToHaveAttributeAsync("data-said", $"{block}");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-block", $"{block}");
        await Assertions.Expect(Here).ToHaveAttributeAsync("data-line", $"{line}");
        await Assertions.Expect(Here).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Scrubbing_jumping_and_pressing_a_line_keep_text_picture_and_figures_together()
    {
        await Open();
        await IsAt(block: 1, line: 3);
        await Scrub.FillAsync("6");
        await IsAt(block: 6, line: 8);
        await Assertions.Expect(page.Locator("#path-at")).ToContainTextAsync("-0.2500");
        await Assertions.Expect(page.Locator("#path-togo")).ToContainTextAsync("-1.2500");
        await Assertions.Expect(page.Locator("#path-words")).ToContainTextAsync("Block 6 of 20, line 8, T1");

        await page.GetByRole(AriaRole.Button, new() { Name = "Stop after" }).ClickAsync();
        await IsAt(block: 12, line: 14);
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop before" }).ClickAsync();
        await IsAt(block: 6, line: 8);

        await page.Locator(".path-row[data-line='16']").ClickAsync();
        await IsAt(block: 14, line: 16);
        await Assertions.Expect(Scrub).ToHaveValueAsync("14");
    }

    [Fact]
    public async Task A_line_far_down_comes_into_sight_also_when_its_block_is_answered_late()
    {
        var answered = new TaskCompletionSource();
        await page.RouteAsync(
            "**/block.json*",
            async route =>
            {
                await answered.Task;
                await route.ContinueAsync();
            }
        );
        await page.GotoAsync("/jobs/1/path?block=20");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-state", "drawn");
        await page.EvaluateAsync("new Promise(drawn => requestAnimationFrame(() => requestAnimationFrame(drawn)))");
        answered.SetResult();
        await Assertions.Expect(View).ToHaveAttributeAsync("data-said", "20");
        await Assertions.Expect(Here).ToBeInViewportAsync();
        await Assertions.Expect(page.Locator("#path-text > div").First).Not.ToHaveCSSAsync("height", "0px");
    }

    [Fact]
    public async Task A_finding_is_gone_to_from_its_list_and_stands_beside_its_line()
    {
        await Open();
        var link = page.Locator(".path-jumps ul a[data-block]").First;
        var block = await link.GetAttributeAsync("data-block");
        var id = await link.TextContentAsync();
        await link.ClickAsync();
        await Assertions.Expect(View).ToHaveAttributeAsync("data-said", block!);
        await Assertions.Expect(Here.Locator(".marks")).ToContainTextAsync(id!);
        await Assertions.Expect(page.Locator("#path-beside")).ToContainTextAsync(id!);
    }

    [Fact]
    public async Task With_nothing_but_keys_it_is_gone_through_turned_and_played()
    {
        await Open();
        await Scrub.FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.Keyboard.PressAsync("ArrowRight");
        await IsAt(block: 3, line: 5);
        await page.Keyboard.PressAsync("End");
        await IsAt(block: 20, line: 22);
        await page.Locator("#path-text").FocusAsync();
        await page.Keyboard.PressAsync("ArrowUp");
        await IsAt(block: 19, line: 21);

        var before = await page.Locator("#path-canvas").ScreenshotAsync();
        await page.Locator("#path-canvas").FocusAsync();
        await page.Keyboard.PressAsync("ArrowLeft");
        await page.Keyboard.PressAsync("ArrowLeft");
        Assert.NotEqual(before, await page.Locator("#path-canvas").ScreenshotAsync());

        await Scrub.FillAsync("1");
        await page.Locator("#path-rate").SelectOptionAsync("1");
        await page.GetByLabel("Speed").SelectOptionAsync("256");
        await page.Locator("#path-play").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-said", "18", new() { Timeout = 30_000 });
        await Assertions.Expect(page.Locator("#path-play")).ToHaveTextAsync("Play");
    }

    [Fact]
    public async Task A_browser_that_cannot_draw_in_space_shows_the_flat_views_and_the_figures()
    {
        await page.AddInitScriptAsync("HTMLCanvasElement.prototype.getContext = () => null;");
        await Open("flat");
        await Assertions.Expect(page.Locator("#path-told")).ToContainTextAsync("no WebGL");
        await Assertions.Expect(page.Locator("#path-flat img")).ToHaveCountAsync(5);
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Front" })).ToBeDisabledAsync();
        await Scrub.FillAsync("6");
        await IsAt(block: 6, line: 8);
        await Assertions.Expect(page.Locator("#path-at")).ToContainTextAsync("-0.2500");
    }

    public async ValueTask DisposeAsync()
    {
        await context.DisposeAsync();
        await shop.DisposeAsync();
    }
}
