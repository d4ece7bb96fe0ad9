using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Features.People;
using Handwheel.Web.Tests.Data;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>
/// Every page at the machine in every state that it can be in (empty, full, refused, wrong, held, offline, handed over, ended), in both
/// themes and both languages, on a tablet and on a phone: measured for gloves, and looked at by axe. What a tablet opens without the server is
/// measured with the journeys that are without it. CI gives each state one theme and one language in turn; what is reached by pressing is in
/// English here, and in Spanish with the shift that is worked in it. HANDWHEEL_SCREENS=all takes every screen and a step of each kind in each phase, CI the narrowest and
/// a step of each kind (<see cref="ScreenTests"/> has the steps of an air cut on every size); with HANDWHEEL_SCREENSHOTS set to a folder
/// each is also kept there as a picture.
/// </summary>
public sealed class FloorStatesTests(Browser browser) : IClassFixture<Browser>, IAsyncDisposable
{
    readonly List<string> faults = [];
    readonly JourneyShop shop = new();
    IBrowserContext context = null!;
    TabletPage tablet = null!;
    string screen = "";
    string hand = "right";
    string address = "";
    int looks;

    IPage Page => tablet.Page;

    public static TheoryData<int, int, string> Screens
    {
        get
        {
            var screens = new TheoryData<int, int, string> { { 390, 844, "left" } };
            if (PageMeasure.Whole)
                screens.AddRange((1280, 800, "right"), (1280, 800, "left"), (390, 844, "right"), (800, 1280, "left"));
            return screens;
        }
    }

    [Theory]
    [MemberData(nameof(Screens))]
    public async Task Every_state_can_be_pressed_with_a_glove_read_and_heard(int width, int height, string onHand)
    {
        await Open(width, height, onHand);
        await SigningIn();
        await BeforeAnything();
        var proveOut = await shop.WalkTo("restore.reset");
        await EveryKindOfStep(proveOut);
        await Differing(proveOut);
        await WrongReadings(proveOut);
        await NotSavedAndRefused(proveOut);
        await HandedOver(proveOut);
        PageMeasure.HasNo(faults);
    }

    [Theory]
    [MemberData(nameof(Screens))]
    public async Task A_prove_out_that_ended_raised_and_locked_out_can_be_read_and_both_are_asked_for(
        int width,
        int height,
        string onHand
    )
    {
        await Open(width, height, onHand);
        var proveOut = await shop.WalkTo("restore.reset");
        var words = SmallShop.Words();
        words["raised"] = "G54 Z, as last read";
        words["locked-out"] = "door switch bypassed by maintenance, key in the office, until the spare is here";
        await shop.Do(proveOut, new HandedOver(words));
        await shop.Do(proveOut, new Abandoned("the casting is cracked"));
        await tablet.SignIn("Night setter", JourneyShop.Pin);
        await Look("abandoned", $"/floor/prove-outs/{proveOut}");
        await Look("machine-read-register", $"/floor/machines/{shop.MachineId}");
        await Assertions.Expect(Page.Locator("button[value='prove']")).ToBeDisabledAsync();
        await Page.EvaluateAsync("document.querySelectorAll('details').forEach(d => (d.open = true))");
        await Look("machine-lockout");
        PageMeasure.HasNo(faults);
    }

    async Task Open(int width, int height, string onHand)
    {
        (screen, hand) = (string.Create(CultureInfo.InvariantCulture, $"{width}-{onHand}"), onHand);
        await shop.Open();
        await Take(shop.Address, width, height);
        await context.AddCookiesAsync([shop.TabletCookie]);
    }

    /// <summary>A tablet, as yet at no machine.</summary>
    async Task Take(string at, int width = 1280, int height = 800)
    {
        address = at;
        context = await browser.Tablet(address, width, height);
        await Choose($"dark-{hand}");
        tablet = new TabletPage(await context.NewPageAsync());
    }

    /// <param name="path">Null: the page as it stands there now, in the language of the presses that led to it.</param>
    async Task Look(string name, string? path = null)
    {
        if (path is null)
        {
            await LookAt(name, screen);
            return;
        }
        var (first, last) = PageMeasure.Whole ? (0, 3) : (looks % 4, looks % 4);
        looks++;
        for (var turn = first; turn <= last; turn++)
        {
            var choices = $"{(turn % 2 == 0 ? "dark" : "light")}-{hand}-{(turn < 2 ? "es" : "en")}";
            await Choose(choices);
            await Page.GotoAsync(path);
            Assert.Equal(choices[^2..], await Page.Locator("html").GetAttributeAsync("lang"));
            await LookAt(name, screen + " " + choices);
        }
        await Choose($"dark-{hand}");
    }

    async Task LookAt(string name, string where)
    {
        faults.AddRange((await PageMeasure.Faults(Page)).Select(f => $"{name} {where}: {f}"));
        await PageMeasure.Keep(Page, $"state-{name}-{where.Replace(' ', '-')}");
    }

    Task Choose(string choices) =>
        context.AddCookiesAsync([
            new()
            {
                Name = "floor-choices",
                Value = choices,
                Url = address,
            },
        ]);

    async Task SigningIn()
    {
        await Look("people", "/floor/sign-in");
        await Page.GotoAsync($"/floor/sign-in?person={shop.DaySetter.Person}");
        await tablet.TypeOnKeypad("pin", "111111");
        await Page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        await Page.Locator(".refusal[role=alert] p").First.WaitForAsync();
        await Look("pin-wrong");
        await Look("password", $"/floor/sign-in?person={shop.Supervisor.Person}&password=true");

        _ = (
            await shop.Get<AddPerson>()
                .Run(shop.Supervisor with { Roles = Roles.Administrator }, "New hand", Roles.Operator, "204865", null)
        ).Must;
        await tablet.SignIn("New hand", "204865", stays: true);
        await Look("new-pin");
        await Page.GotoAsync("/floor/sign-in");
        await tablet.NotMe();
        await tablet.SignIn("Day setter", JourneyShop.Pin);
    }

    async Task BeforeAnything()
    {
        await Look("machines", "/floor");
        await Look("machine-idle", $"/floor/machines/{shop.MachineId}");
        await Look("job", "/floor/jobs/1");
        await Look("scan", "/floor/scan");
        await Look("scan-refused", "/floor/scan?code=javascript:1");
        await Look("trust", "/trust-this-shop");
        await SomebodyElse();
    }

    /// <summary>Pressed on a page that was opened by somebody else than who is signed in by then.</summary>
    async Task SomebodyElse()
    {
        await Page.GotoAsync($"/floor/machines/{shop.MachineId}");
        var other = new TabletPage(await context.NewPageAsync());
        await other.SignIn("Night setter", JourneyShop.Pin);
        await Page.GetByRole(AriaRole.Button, new() { Name = "Prove it out" }).ClickAsync();
        await Page.GetByText("this page was opened by somebody else").WaitForAsync();
        await Look("somebody-else");
        await other.SignIn("Day setter", JourneyShop.Pin);
        await other.Page.CloseAsync();
    }

    async Task EveryKindOfStep(Guid proveOut)
    {
        await Look("machine-busy", $"/floor/machines/{shop.MachineId}");
        var steps = (await shop.Opened(proveOut)).ProveOut.Steps;
        foreach (var step in steps.DistinctBy(s => (s.Takes, s.State, PageMeasure.Whole ? s.Phase : default)))
            await Look("step-" + step.Id, $"/floor/prove-outs/{proveOut}?step={step.Id}");
        await Page.EvaluateAsync("document.querySelectorAll('details').forEach(d => (d.open = true))");
        await Look("other-ways");
    }

    async Task WrongReadings(Guid proveOut)
    {
        await shop.Do(proveOut, new Ticked("restore.reset"));
        var step = $"/floor/prove-outs/{proveOut}?step=restore.offset.G54.z";
        await shop.Do(proveOut, new ReadingTyped("restore.offset.G54.z", "-16.0625"));
        await Look("read-again", step);
        await shop.Do(proveOut, new ReadingTyped("restore.offset.G54.z", "-14.0625"));
        await Look("not-right", step);
    }

    async Task Differing(Guid proveOut)
    {
        await shop.Do(proveOut, new Differs("restore.reset", "the register shows -12.0000"));
        await Look("held", $"/floor/prove-outs/{proveOut}?step=restore.reset");
        await shop.Do(
            proveOut,
            new DifferenceSettled("restore.reset", "another line of the register page had been read")
        );
    }

    async Task NotSavedAndRefused(Guid proveOut)
    {
        await Page.GotoAsync($"/floor/prove-outs/{proveOut}?step=restore.offset.G54.z");
        await Page.EvaluateAsync("['away', 'changed'].forEach(id => (document.getElementById(id).hidden = false))");
        await Look("away-and-changed");

        await Page.Locator("#typed").FillAsync("-18,0625");
        await Page.GetByRole(AriaRole.Button, new() { Name = "Record reading" }).ClickAsync();
        await Assertions.Expect(Page.Locator("#refused")).ToContainTextAsync("comma");
        await Look("refused");
        await Page.Locator("#refused button").ClickAsync();
        await Assertions.Expect(Page.Locator("#refused")).ToBeHiddenAsync();
        await Assertions.Expect(Page.Locator("#saved")).ToHaveAttributeAsync("data-state", "saved");

        // How the page looks without its server; what then becomes of an entry is looked at through a proxy elsewhere.
        await Page.Context.SetOfflineAsync(true);
        await Assertions.Expect(Page.Locator("#saved")).ToHaveAttributeAsync("data-state", "waiting");
        await Look("offline");
        await Page.Context.SetOfflineAsync(false);
        await Assertions.Expect(Page.Locator("#saved")).ToHaveAttributeAsync("data-state", "saved");
    }

    async Task HandedOver(Guid proveOut)
    {
        await Look("handoff-give", $"/floor/machines/{shop.MachineId}/handoff");
        await Page.GotoAsync("/floor");
        await tablet.NotMe();
        await tablet.SignIn("Night setter", JourneyShop.Pin);
        await Look("machine-of-another", $"/floor/machines/{shop.MachineId}");
        await shop.Do(proveOut, new TakingOverAlone("gone home"), shop.NightSetter);
        await Look("handoff-take", $"/floor/machines/{shop.MachineId}/handoff");
        await Look("handoff-open", $"/floor/prove-outs/{proveOut}");
    }

    [Fact]
    public async Task A_shop_with_nobody_and_nothing_in_it_says_what_comes_next()
    {
        screen = "1280-right";
        await using var empty = new ShopApp();
        empty.UseKestrel(0);
        empty.StartServer();
        await Take(empty.ClientOptions.BaseAddress.ToString().TrimEnd('/'));
        await Look("nobody", "/floor/sign-in");
        await Page.GotoAsync("/floor/sign-in");
        await Assertions.Expect(Page.Locator("main")).ToContainTextAsync("An administrator adds people");
        await Look("trust-plain", "/trust-this-shop");
        PageMeasure.HasNo(faults);
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null)
            await context.DisposeAsync();
        await shop.DisposeAsync();
    }
}
