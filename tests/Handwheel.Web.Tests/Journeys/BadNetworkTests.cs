using Handwheel.Jobs.Proving;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>
/// Every fault of a network, met by every kind of entry, on a page that stays and on one that is loaded again meanwhile: nothing is lost,
/// nothing counts twice, and the banner says that it is not saved. CI takes a sample that has every fault and every kind;
/// <c>HANDWHEEL_NETWORK=all</c> takes all of them.
/// </summary>
public sealed class BadNetworkTests(Browser browser) : IClassFixture<Browser>
{
    public enum Kind
    {
        Tick,
        Reading,
        Signature,
        Photo,
    }

    static readonly (Fault Fault, Kind Kind, bool Reload)[] Sample =
    [
        (Fault.BlackHole, Kind.Tick, true),
        (Fault.Reset, Kind.Reading, true),
        (Fault.RequestLost, Kind.Photo, false),
        (Fault.AnswerLost, Kind.Signature, false),
        (Fault.AnswerLost, Kind.Photo, true),
        (Fault.HalfBody, Kind.Reading, false),
        (Fault.CaptivePortal, Kind.Signature, true),
        (Fault.BadGateway, Kind.Tick, false),
    ];

    static readonly bool[] Both = [false, true];

    public static TheoryData<Fault, Kind, bool> Cells
    {
        get
        {
            var every =
                from fault in Enum.GetValues<Fault>()
                where fault is not Fault.None
                from kind in Enum.GetValues<Kind>()
                from reload in Both
                select (fault, kind, reload);
            var all = Environment.GetEnvironmentVariable("HANDWHEEL_NETWORK") is "all";
            return [.. (all ? every : Sample).Select(c => (c.Item1, c.Item2, c.Item3))];
        }
    }

    [Fact]
    public void The_sample_has_every_fault_and_every_kind()
    {
        Assert.Equal(Enum.GetValues<Fault>().Length - 1, Sample.Select(s => s.Fault).Distinct().Count());
        Assert.Equal(Enum.GetValues<Kind>().Length, Sample.Select(s => s.Kind).Distinct().Count());
    }

    [Theory]
    [MemberData(nameof(Cells))]
    public async Task Nothing_is_lost_and_nothing_counts_twice(Fault fault, Kind kind, bool reload)
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        var proveOut = await shop.WalkTo(kind is Kind.Signature ? "ready.signed" : "ready.machine.referenced");
        await using var network = new BadNetwork(shop.Address);
        await using var context = await browser.Tablet(network.Address, keepsPages: true);
        await context.AddCookiesAsync([shop.TabletCookie]);
        var tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await tablet.Page.GotoAsync(
            $"/floor/prove-outs/{proveOut}" + (kind is Kind.Reading ? "?step=ready.machine.rapid" : "")
        );
        await tablet.KeepsPages();
        var entries = (await shop.Opened(proveOut)).ProveOut.Last;

        network.Fault = fault;
        await Enter(tablet, kind);
        await SaysNotSaved(tablet, kind);
        if (reload)
        {
            await tablet.Page.ReloadAsync();
            await Assertions.Expect(tablet.Page.Locator("html[data-kept]")).ToHaveCountAsync(1);
            await SaysNotSaved(tablet, kind, reloaded: true);
        }
        network.Fault = Fault.None;

        if (kind is Kind.Signature)
            await SignAgain(tablet, shop, proveOut, reload);
        await Assertions
            .Expect(tablet.Page.Locator("html:not([data-kept]) #saved"))
            .ToHaveAttributeAsync("data-state", "saved", new() { Timeout = 30_000 });
        var made = (await shop.Opened(proveOut)).Entries.Where(e => e.Number > entries).ToList();
        Assert.Single(made);
        Assert.Equal("Day setter", made[0].By.Name);
        Assert.Equal(
            kind switch
            {
                Kind.Tick => typeof(Ticked),
                Kind.Reading => typeof(ReadingTyped),
                Kind.Signature => typeof(Signed),
                _ => typeof(PhotoAdded),
            },
            made[0].Act.GetType()
        );
    }

    static async Task Enter(TabletPage tablet, Kind kind)
    {
        var page = tablet.Page;
        switch (kind)
        {
            case Kind.Tick:
                await page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }).ClickAsync();
                break;
            case Kind.Reading:
                await tablet.TypeOnKeypad("typed", "5");
                await page.GetByRole(AriaRole.Button, new() { Name = "Record reading" }).First.ClickAsync();
                break;
            case Kind.Signature:
                await Sign(tablet);
                break;
            case Kind.Photo:
                await page.GetByText("Add a photo").ClickAsync();
                await page.Locator("#added-photo").SetInputFilesAsync(await Pictures.Jpeg(page, 320, 240));
                await page.GetByRole(AriaRole.Button, new() { Name = "Keep the photo" }).ClickAsync();
                break;
        }
    }

    static async Task Sign(TabletPage tablet)
    {
        await tablet.TypeOnKeypad("pin-Did", JourneyShop.Pin);
        await tablet.Page.GetByRole(AriaRole.Button, new() { Name = "Sign: done" }).First.ClickAsync();
    }

    static async Task SaysNotSaved(TabletPage tablet, Kind kind, bool reloaded = false)
    {
        var saved = tablet.Page.Locator("#saved");
        await Assertions.Expect(saved).ToHaveAttributeAsync("data-state", "waiting", new() { Timeout = 15_000 });
        if (kind is not Kind.Signature)
            await Assertions.Expect(saved).ToContainTextAsync("NOT SAVED");
        else if (reloaded)
            await Assertions.Expect(saved).ToContainTextAsync("NO CONNECTION", new() { Timeout = 15_000 });
        else
            await Assertions
                .Expect(tablet.Page.Locator("[data-answer]:visible"))
                .ToContainTextAsync("not signed", new() { Timeout = 15_000 });
    }

    /// <summary>It was said to be not signed: the person looks, and signs again where it is so. The same press twice counts once.</summary>
    static async Task SignAgain(TabletPage tablet, JourneyShop shop, Guid proveOut, bool reloaded)
    {
        await Assertions
            .Expect(tablet.Page.Locator("html:not([data-kept])"))
            .ToHaveCountAsync(1, new() { Timeout = 30_000 });
        var step = (await shop.Opened(proveOut)).ProveOut.Steps.First(s => s.Id == "ready.signed");
        if (reloaded && step.State is StepState.Done)
            return;
        await Sign(tablet);
        await tablet.Page.WaitForURLAsync("**after=ready.signed");
    }
}
