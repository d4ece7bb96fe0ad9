using System.Globalization;
using System.Text;
using Handwheel.Jobs.Proving;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>
/// The program changes while it is proved out: at the desk as a newer file, at the machine as the file that the control saved.
/// With HANDWHEEL_SCREENSHOTS set to a folder the pages are kept there as pictures.
/// </summary>
public sealed class ChangedProgramTests(Browser browser) : IClassFixture<Browser>
{
    static readonly LocatorAssertionsToContainTextOptions Patient = new() { Timeout = 60_000 };

    static FilePayload Edited(string line, string into) =>
        new()
        {
            Name = "spacer-plate-b.nc",
            MimeType = "text/plain",
            Buffer = Encoding.ASCII.GetBytes(
                Encoding.ASCII.GetString(SpacerPlate.ProgramBytes).Replace(line, into, StringComparison.Ordinal)
            ),
        };

    [Fact]
    public async Task A_newer_program_opens_the_cards_of_the_tool_that_would_do_something_else_and_of_no_other()
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        var proveOut = await shop.WalkTo("air-cut.tool.2.gauge");
        await using var context = await browser.Tablet(shop.Address);
        var page = await context.NewPageAsync();
        await DeskPage.SignIn(page);

        await page.GotoAsync("/jobs/1/program");
        await DeskPage.Choose(page.GetByLabel("Program", new() { Exact = true }), Edited("Z-0.5 R0.1", "Z-0.55 R0.1"));
        var compared = page.GetByRole(AriaRole.Region, new() { Name = "What the machine would do differently" });
        await Assertions.Expect(compared).ToContainTextAsync("goes 0.0500 in deeper from line 16", Patient);
        await Assertions.Expect(compared).ToContainTextAsync("T1 the same");
        await KeepOnEveryScreen(page, "newer-program");
        await page.GetByRole(AriaRole.Button, new() { Name = "Use this program" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("hy", Patient);
        await page.GetByLabel("Why it changes").FillAsync("the drawing asks for 0.55");
        await page.GetByRole(AriaRole.Button, new() { Name = "Use this program" }).ClickAsync();
        // In a page that is alive the address changes without a load.
        await Assertions.Expect(page).ToHaveURLAsync($"{shop.Address}/jobs/1", new() { Timeout = 60_000 });

        var open = (await shop.Opened(proveOut)).ProveOut;
        Assert.Equal(StepState.Done, State(open, "air-cut.tool.1.gauge"));
        Assert.NotEqual(StepState.Done, State(open, "air-cut.tool.2.machine-z"));
        Assert.NotEqual(StepState.Done, State(open, "ready.program"));
    }

    [Fact]
    public async Task The_file_that_the_control_saved_is_compared_at_the_machine_and_becomes_the_program_that_is_proved()
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        var proveOut = await shop.WalkTo("first-cut.tool.2.machine-z");
        await using var context = await browser.Tablet(shop.Address);
        await context.AddCookiesAsync([shop.TabletCookie]);
        var tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        var page = tablet.Page;
        await page.GotoAsync($"/floor/prove-outs/{proveOut}");
        await page.GetByText("send the file that the control saved").ClickAsync();
        await KeepOnEveryScreen(page, "saved-program");
        await page.Locator("#edited-program").SetInputFilesAsync(Edited("Z-0.5 R0.1", "Z-0.6 R0.1"));
        await page.Locator("#edited-why").FillAsync("the hole was short");
        await page.GetByRole(AriaRole.Button, new() { Name = "Compare and record" }).ClickAsync();
        await page.WaitForFunctionAsync("() => !document.querySelector('#edited-program')?.value");

        var open = await shop.Opened(proveOut);
        var edit = open.Entries.Select(e => e.Act).OfType<ProgramChanged>().Last();
        Assert.Contains(edit.Compared!, t => t.Words.Contains("goes 0.1000 in deeper", StringComparison.Ordinal));
        Assert.Equal(StepState.Done, State(open.ProveOut, "first-cut.tool.1.machine-z"));
        await KeepOnEveryScreen(page, "after-saved-program");
    }

    [Fact]
    public async Task A_file_saved_from_another_program_is_refused_and_the_first_block_that_differs_is_named()
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        var proveOut = await shop.WalkTo("ready.program");
        await using var context = await browser.Tablet(shop.Address);
        await context.AddCookiesAsync([shop.TabletCookie]);
        var tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        var page = tablet.Page;
        await page.GotoAsync($"/floor/prove-outs/{proveOut}");
        await page.GetByText("Compare the program saved from the control").ClickAsync();
        await page.Locator("#saved-program").SetInputFilesAsync(Edited("Z-0.5 R0.1", "Z-0.6 R0.1"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Compare", Exact = true }).ClickAsync();
        await Assertions.Expect(tablet.Step).ToContainTextAsync("Z-0.6 R0.1");
        await Assertions.Expect(page.Locator("#block")).ToHaveCountAsync(0);
        await KeepOnEveryScreen(page, "another-saved-program");
    }

    static StepState State(ProveOut proveOut, string step) => proveOut.Steps.First(s => s.Id == step).State;

    static async Task KeepOnEveryScreen(IPage page, string name)
    {
        foreach (var (width, height) in new[] { (390, 844), (1680, 1050), (1280, 800) })
        {
            await page.SetViewportSizeAsync(width, height);
            var wide = await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - innerWidth");
            Assert.True(wide <= 0, $"{name} is {wide} wider than {width}");
            if (Environment.GetEnvironmentVariable("HANDWHEEL_SCREENSHOTS") is { Length: > 0 } folder)
                await page.ScreenshotAsync(
                    new()
                    {
                        Path = Path.Combine(folder, $"{name}-{width.ToString(CultureInfo.InvariantCulture)}.png"),
                        FullPage = true,
                    }
                );
        }
    }
}
