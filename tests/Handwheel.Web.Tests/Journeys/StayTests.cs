using Handwheel.Jobs.Proving;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>A page at the machine stays with what is being done, says what is so, and hides nothing that could hurt.</summary>
public sealed class StayTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    const string Step = "restore.offset.G54.z";
    readonly JourneyShop shop = new();
    IBrowserContext context = null!;
    TabletPage tablet = null!;
    Guid proveOut;

    IPage Page => tablet.Page;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        proveOut = await shop.WalkTo("restore.reset");
        await shop.Do(proveOut, new Ticked("restore.reset"));
        context = await browser.Tablet(shop.Address);
        await context.AddCookiesAsync([shop.TabletCookie]);
        tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await Page.GotoAsync($"/floor/prove-outs/{proveOut}?step={Step}");
    }

    [Theory]
    [InlineData(1280, 800)]
    [InlineData(1024, 768)]
    [InlineData(390, 844)]
    public async Task After_a_wrong_reading_the_step_stays_with_its_message_and_its_keys_in_view(int width, int height)
    {
        await Page.SetViewportSizeAsync(width, height);
        await tablet.Read("-16.0625");

        Assert.Equal(Step, await tablet.StepId());
        await Assertions.Expect(Page.Locator(".say > .refusal")).ToBeInViewportAsync(new() { Ratio = 1 });
        await Assertions.Expect(Page.Locator(".take .box")).ToBeInViewportAsync(new() { Ratio = 1 });
        var keys = Page.Locator(".take .keypad");
        await Assertions.Expect(keys).ToBeInViewportAsync(new() { Ratio = width > 900 ? 1 : 0.2f });

        await tablet.Read("-18.0625");
        Assert.NotEqual(Step, await tablet.StepId());
    }

    [Fact]
    public async Task A_refusal_goes_when_the_next_entry_is_accepted()
    {
        await Page.Locator("#typed").FillAsync("-18,0625");
        await Page.GetByRole(AriaRole.Button, new() { Name = "Record reading" }).ClickAsync();
        await Assertions.Expect(Page.Locator("#refused")).ToContainTextAsync("nothing was recorded");

        await Page.Locator("#typed").FillAsync("");
        await tablet.Read("-18.0625");
        await Assertions.Expect(Page.Locator("#saved")).ToHaveAttributeAsync("data-state", "saved");
        await Assertions.Expect(Page.Locator("#refused")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task A_raised_register_cannot_be_handed_over_as_none_and_blank_headings_are_named()
    {
        await Page.GotoAsync($"/floor/machines/{shop.MachineId}/handoff");
        var raised = Page.Locator("#heading-raised-facts");
        await Assertions.Expect(raised).ToContainTextAsync("G54 Z still raised 2.0000 in");
        Assert.Equal(0, await Page.Locator("[data-fill][data-for='heading-raised']").CountAsync());

        await tablet.TypeOnKeypad("pin", JourneyShop.Pin);
        await Page.GetByRole(AriaRole.Button, new() { Name = "Sign and hand over" }).ClickAsync();
        await Assertions.Expect(Page.Locator("[data-missing]").First).ToBeInViewportAsync();
        await Assertions.Expect(Page.Locator("[data-missing]").First).ToContainTextAsync("“none”");

        await Page.Locator("#heading-raised").FillAsync("told it twice");
        foreach (var none in await Page.GetByRole(AriaRole.Button, new() { Name = "None" }).AllAsync())
            await none.ClickAsync();
        await Assertions.Expect(Page.Locator("[data-missing]")).ToHaveCountAsync(0);
        await tablet.Press("Sign and hand over");

        var given = (await shop.Opened(proveOut)).Entries.Select(e => e.Act).OfType<HandedOver>().Single();
        Assert.StartsWith("G54 Z still raised 2.0000 in", given.Headings["raised"], StringComparison.Ordinal);
        Assert.EndsWith("\ntold it twice", given.Headings["raised"], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Who_finds_a_machine_raised_by_somebody_else_is_offered_to_take_over()
    {
        await Page.GotoAsync($"/floor/machines/{shop.MachineId}");
        Assert.Equal(0, await Page.GetByRole(AriaRole.Link, new() { Name = "Take over alone" }).CountAsync());

        await tablet.NotMe();
        await tablet.SignIn("Night setter", JourneyShop.Pin);
        await Page.GotoAsync($"/floor/machines/{shop.MachineId}");
        await Assertions.Expect(Page.GetByText("read the registers back first")).ToBeVisibleAsync();
        await Page.GetByRole(AriaRole.Link, new() { Name = "Take over alone" }).ClickAsync();
        await Page.GetByLabel("Why nobody hands over").FillAsync("gone home");
        await tablet.TypeOnKeypad("alone-pin", JourneyShop.Pin);
        await tablet.Press("Sign and take over alone");

        await Page.SetViewportSizeAsync(390, 844);
        var step = await tablet.StepId();
        await tablet.Read("-1");
        Assert.Equal(step, await tablet.StepId());
        await Assertions.Expect(Page.Locator(".take .box")).ToBeInViewportAsync();
        await Assertions.Expect(Page.Locator(".hazard summary")).ToContainTextAsync("G54 Z still raised 2.0000 in");
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null)
            await context.DisposeAsync();
        await shop.DisposeAsync();
    }
}
