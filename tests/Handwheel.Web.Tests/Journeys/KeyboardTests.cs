using Handwheel.Jobs.Proving;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>Nothing but a keyboard: a whole step at the machine and one at the desk, each from signing in to what was done.</summary>
public sealed class KeyboardTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    const int TabsMost = 150;
    readonly JourneyShop shop = new();
    IBrowserContext context = null!;
    IPage page = null!;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        context = await browser.Tablet(shop.Address);
        page = await context.NewPageAsync();
    }

    [Fact]
    public async Task A_step_at_the_machine_from_signing_in_to_the_next_step()
    {
        var proveOut = await shop.WalkTo("restore.reset");
        await context.AddCookiesAsync([shop.TabletCookie]);
        await page.GotoAsync("/floor");
        await Press(page.GetByRole(AriaRole.Link, new() { Name = "Day setter" }));
        await Type(page.Locator("#pin"), JourneyShop.Pin);
        await page.Keyboard.PressAsync("Enter");
        await Press(page.GetByRole(AriaRole.Link, new() { Name = "Mill 9" }));
        await Press(page.GetByRole(AriaRole.Link, new() { Name = "Go on with the prove-out" }));
        await Press(page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }));

        await Assertions.Expect(page.Locator("article[data-step^='restore.offset']")).ToBeVisibleAsync();
        var step = await page.Locator("article").GetAttributeAsync("data-step");
        await Type(page.Locator("#typed"), SpacerPlate.Reading(step!));
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator($"article[data-step='{step}']")).ToHaveCountAsync(0);
        var taken = (await shop.Opened(proveOut)).Entries.Select(e => e.Act);
        Assert.Contains(taken, a => a is ReadingTyped reading && reading.Step == step);
    }

    [Fact]
    public async Task A_browser_is_named_at_the_desk_from_signing_in_to_its_name_on_the_page()
    {
        await page.GotoAsync("/tablets");
        await TabTo(page.GetByLabel("Who are you"));
        await page.Keyboard.TypeAsync("Supervisor");
        await Type(page.GetByLabel("Password or PIN"), JourneyShop.Password);
        await page.Keyboard.PressAsync("Enter");
        await Type(page.GetByLabel("Name", new() { Exact = true }), "Bench by the saw");
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("Bench by the saw");
    }

    async Task Press(ILocator what)
    {
        await TabTo(what);
        await page.Keyboard.PressAsync("Enter");
    }

    async Task Type(ILocator where, string text)
    {
        await TabTo(where);
        await page.Keyboard.TypeAsync(text);
    }

    /// <summary>Goes from one stop to the next, as somebody without a pointer has to, and sees where it is: a stop that cannot be seen is no stop.</summary>
    async Task TabTo(ILocator what)
    {
        await what.WaitForAsync();
        for (var tabs = 0; tabs < TabsMost; tabs++)
        {
            if (await what.EvaluateAsync<bool>("e => e === document.activeElement"))
            {
                var outline = await what.EvaluateAsync<string>("e => getComputedStyle(e).outlineStyle");
                Assert.NotEqual("none", outline);
                return;
            }
            await page.Keyboard.PressAsync("Tab");
        }
        Assert.Fail($"{TabsMost} tabs did not lead to {what}");
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null)
            await context.DisposeAsync();
        await shop.DisposeAsync();
    }
}
