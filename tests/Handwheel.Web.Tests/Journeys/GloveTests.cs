using Handwheel.Jobs.Proving;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>Wet gloves: nothing irreversible under a tap, a slide is no press, and what was typed wrong is explained.</summary>
public sealed class GloveTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    readonly JourneyShop shop = new();
    IBrowserContext context = null!;
    TabletPage tablet = null!;
    Guid proveOut;

    IPage Page => tablet.Page;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        proveOut = await shop.WalkTo("restore.reset");
        context = await browser.Tablet(shop.Address);
        await context.AddCookiesAsync([shop.TabletCookie]);
        tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await Page.GotoAsync($"/floor/prove-outs/{proveOut}");
    }

    [Fact]
    public async Task Abandoning_takes_a_pin_and_a_hold_and_leaves_the_hazard_on_the_board()
    {
        var button = await Abandoning();
        await button.ClickAsync();
        Assert.Equal(Standing.UnderWay, (await shop.Opened(proveOut)).ProveOut.Standing);

        await button.ClickAsync(new() { Delay = 1000 });
        await Assertions.Expect(Page.GetByRole(AriaRole.Heading, new() { Name = "Abandoned" })).ToBeVisibleAsync();
        await Assertions.Expect(Page.Locator(".hazard")).ToContainTextAsync("G54 Z still raised 2.0000 in");
    }

    [Fact]
    public async Task A_keyboard_confirms_what_cannot_be_undone_by_pressing_twice()
    {
        var button = await Abandoning();
        await button.FocusAsync();
        await Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(button).ToContainTextAsync("Press again");
        Assert.Equal(Standing.UnderWay, (await shop.Opened(proveOut)).ProveOut.Standing);

        await Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(Page.GetByRole(AriaRole.Heading, new() { Name = "Abandoned" })).ToBeVisibleAsync();
    }

    [Fact]
    public async Task An_alarm_is_said_with_one_press_and_the_registers_are_asked_for_again()
    {
        await Page.GetByRole(AriaRole.Button, new() { Name = "Alarm", Exact = true }).ClickAsync();
        await Assertions.Expect(Page.Locator(".last-done")).ToContainTextAsync("interrupted: Alarm");
        var proved = await shop.Opened(proveOut);
        Assert.Equal("Alarm", Assert.IsType<Interrupted>(proved.Entries[^1].Act).What);
        Assert.Contains(
            proved.ProveOut.Steps,
            s => s is { Takes: Takes.Reading, State: StepState.Open, WaitsFor.Count: 0 }
        );
    }

    async Task<ILocator> Abandoning()
    {
        await Page.GetByText("Abandon this prove-out").First.ClickAsync();
        await Page.GetByLabel("The reason").FillAsync("the casting is cracked");
        await Page.Locator("#abandoned-pin").FillAsync(JourneyShop.Pin);
        return Page.GetByRole(AriaRole.Button, new() { Name = "Sign: abandoned" });
    }

    [Fact]
    public async Task A_finger_that_slides_over_a_button_has_not_pressed_it()
    {
        var box = (await Page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }).BoundingBoxAsync())!;
        await Page.Mouse.MoveAsync(box.X + 30, box.Y + 30);
        await Page.Mouse.DownAsync();
        await Page.Mouse.MoveAsync(box.X + 90, box.Y + 60);
        await Page.Mouse.UpAsync();
        Assert.DoesNotContain((await shop.Opened(proveOut)).Entries, e => e.Act.About == "restore.reset");
        await Assertions.Expect(Page.Locator("#saved")).ToHaveAttributeAsync("data-state", "saved");
    }

    [Fact]
    public async Task A_reading_wrong_twice_is_refused_with_what_it_should_be_and_what_probably_happened()
    {
        await tablet.DoStep();
        await Page.GotoAsync($"/floor/prove-outs/{proveOut}?step=restore.offset.G54.z");
        await tablet.Read("-16.0625");
        await Page.GotoAsync($"/floor/prove-outs/{proveOut}?step=restore.offset.G54.z");
        await tablet.Read("-14.0625");
        await Page.GotoAsync($"/floor/prove-outs/{proveOut}?step=restore.offset.G54.z");

        await Assertions.Expect(Page.Locator(".big-value")).ToHaveTextAsync("-18.0625");
        await Assertions.Expect(Page.Locator("article .refusal").First).ToContainTextAsync("Not right");
    }

    [Fact]
    public async Task What_is_not_a_number_is_refused_in_words_and_nothing_is_recorded()
    {
        await tablet.DoStep();
        await Page.GotoAsync($"/floor/prove-outs/{proveOut}?step=restore.offset.G54.z");
        var before = (await shop.Opened(proveOut)).ProveOut.Last;
        await Page.Locator("#typed").FillAsync("-18,0625");
        await Page.GetByRole(AriaRole.Button, new() { Name = "Record reading" }).ClickAsync();

        await Assertions.Expect(Page.Locator("#refused")).ToContainTextAsync("comma");
        await Assertions.Expect(Page.Locator("#saved")).ToHaveAttributeAsync("data-state", "refused");
        Assert.Equal(before, (await shop.Opened(proveOut)).ProveOut.Last);
    }

    [Fact]
    public async Task A_tablet_keeps_its_theme_and_its_hand_whoever_signs_in()
    {
        await Page.GetByRole(AriaRole.Button, new() { Name = "Dark page" }).ClickAsync();
        await Page.GetByRole(AriaRole.Button, new() { Name = "Keys on the left" }).ClickAsync();
        await tablet.NotMe();
        await tablet.SignIn("Night setter", JourneyShop.Pin);

        await Assertions.Expect(Page.Locator("html")).ToHaveAttributeAsync("data-theme", "dark");
        await Assertions.Expect(Page.Locator("html")).ToHaveAttributeAsync("data-hand", "left");
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null)
            await context.DisposeAsync();
        await shop.DisposeAsync();
    }
}
