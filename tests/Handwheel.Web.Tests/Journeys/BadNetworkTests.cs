using Handwheel.Jobs.Proving;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>
/// Every fault of a network, met by every kind of entry, on a page that stays, is loaded again, is closed and opened, or sleeps meanwhile:
/// nothing is lost, nothing counts twice, and the banner says that it is not saved. CI takes a sample that has every fault, every kind and
/// all that happens meanwhile; <c>HANDWHEEL_NETWORK=all</c> takes all of them. When the banner said it is in each test's output.
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

    public enum Meanwhile
    {
        Stays,
        IsLoadedAgain,
        IsClosedAndOpened,

        /// <summary>Five minutes, as in a pocket: time jumps, and each timer runs at most once.</summary>
        Sleeps,
    }

    static readonly (Fault Fault, Kind Kind, Meanwhile Page)[] Sample =
    [
        (Fault.Slow, Kind.Photo, Meanwhile.Stays),
        (Fault.BlackHole, Kind.Tick, Meanwhile.IsLoadedAgain),
        (Fault.Reset, Kind.Reading, Meanwhile.IsClosedAndOpened),
        (Fault.RequestLost, Kind.Photo, Meanwhile.Stays),
        (Fault.AnswerLost, Kind.Signature, Meanwhile.Stays),
        (Fault.AnswerLost, Kind.Photo, Meanwhile.IsLoadedAgain),
        (Fault.HalfBody, Kind.Reading, Meanwhile.Sleeps),
        (Fault.CaptivePortal, Kind.Signature, Meanwhile.IsLoadedAgain),
        (Fault.BadGateway, Kind.Tick, Meanwhile.Stays),
    ];

    public static TheoryData<Fault, Kind, Meanwhile> Cells
    {
        get
        {
            var every =
                from fault in Enum.GetValues<Fault>()
                where fault is not Fault.None
                from kind in Enum.GetValues<Kind>()
                from page in Enum.GetValues<Meanwhile>()
                // Whether a signature that is on its way when the page goes will arrive, nobody can say; the faults have what follows.
                where (fault, kind, page) is not (Fault.Slow, Kind.Signature, not Meanwhile.Stays)
                select (fault, kind, page);
            var all = Environment.GetEnvironmentVariable("HANDWHEEL_NETWORK") is "all";
            return [.. (all ? every : Sample).Select(c => (c.Item1, c.Item2, c.Item3))];
        }
    }

    [Fact]
    public void The_sample_has_every_fault_every_kind_and_all_that_happens_meanwhile()
    {
        Assert.Equal(Enum.GetValues<Fault>().Length - 1, Sample.Select(s => s.Fault).Distinct().Count());
        Assert.Equal(Enum.GetValues<Kind>().Length, Sample.Select(s => s.Kind).Distinct().Count());
        Assert.Equal(Enum.GetValues<Meanwhile>().Length, Sample.Select(s => s.Page).Distinct().Count());
    }

    [Theory]
    [MemberData(nameof(Cells))]
    public async Task Nothing_is_lost_and_nothing_counts_twice(Fault fault, Kind kind, Meanwhile page)
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        var proveOut = await shop.WalkTo(kind is Kind.Signature ? "ready.signed" : "ready.machine.referenced");
        await using var network = new BadNetwork(shop.Address);
        await using var context = await browser.Tablet(network.Address, keepsPages: true);
        await context.AddCookiesAsync([shop.TabletCookie]);
        var tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        if (page is Meanwhile.Sleeps)
            await tablet.Page.Clock.InstallAsync();
        await tablet.Page.GotoAsync(
            $"/floor/prove-outs/{proveOut}" + (kind is Kind.Reading ? "?step=ready.machine.rapid" : "")
        );
        await tablet.KeepsPages();
        var entries = (await shop.Opened(proveOut)).ProveOut.Last;

        await tablet.Page.EvaluateAsync(Watch);
        network.Fault = fault;
        await Enter(tablet, kind);
        if (fault is Fault.Slow)
            await tablet.Page.WaitForFunctionAsync(ToldOrThere, entries);
        else
        {
            await SaysNotSaved(tablet, kind);
            TestContext.Current.TestOutputHelper!.WriteLine(
                $"{fault} {kind}: the banner said so after {await tablet.Page.EvaluateAsync<string>(Waited)}"
            );
        }
        tablet = await Happens(page, tablet);
        if (fault is not Fault.Slow && page is not Meanwhile.Stays)
            await SaysNotSaved(tablet, kind, afterwards: true);
        network.Fault = Fault.None;

        if (kind is Kind.Signature && fault is not Fault.Slow)
            await SignAgain(tablet, shop, proveOut, page);
        await Assertions
            .Expect(tablet.Page.Locator("html:not([data-kept]) #saved"))
            .ToHaveAttributeAsync("data-state", "saved", new() { Timeout = 60_000 });
        var made = await Made(shop, proveOut, entries);
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

    const string Watch = """
        () => {
            const box = document.getElementById("saved");
            addEventListener("submit", () => (window.pressedAt = performance.now()), true);
            const look = () => { if (box.dataset.state === "waiting") window.toldAt ??= performance.now(); };
            new MutationObserver(look).observe(box, { attributes: true });
        }
        """;

    const string ToldOrThere =
        "before => window.toldAt > 0 || Number(document.documentElement.dataset.number) > before";

    const string Waited = "() => `${Math.round(window.toldAt - window.pressedAt)} ms`";

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

    /// <returns>The page that the person then has before them.</returns>
    static async Task<TabletPage> Happens(Meanwhile what, TabletPage tablet)
    {
        var page = tablet.Page;
        switch (what)
        {
            case Meanwhile.IsLoadedAgain:
                await page.ReloadAsync();
                break;
            case Meanwhile.IsClosedAndOpened:
                var (context, address) = (page.Context, page.Url);
                await page.CloseAsync();
                tablet = new TabletPage(await context.NewPageAsync());
                await tablet.Page.GotoAsync(address);
                break;
            case Meanwhile.Sleeps:
                await page.Clock.FastForwardAsync("05:00");
                break;
        }
        return tablet;
    }

    static async Task SaysNotSaved(TabletPage tablet, Kind kind, bool afterwards = false)
    {
        var saved = tablet.Page.Locator("#saved");
        await Assertions.Expect(saved).ToHaveAttributeAsync("data-state", "waiting", new() { Timeout = 60_000 });
        if (kind is not Kind.Signature)
            await Assertions.Expect(saved).ToContainTextAsync("NOT SAVED");
        else if (afterwards)
            await Assertions.Expect(saved).ToContainTextAsync("NO CONNECTION", new() { Timeout = 60_000 });
        else
            await Assertions
                .Expect(tablet.Page.Locator("[data-answer]:visible"))
                .ToContainTextAsync("not signed", new() { Timeout = 60_000 });
    }

    /// <summary>It was said to be not signed: the person looks, and signs again where it is so. The same press twice counts once.</summary>
    static async Task SignAgain(TabletPage tablet, JourneyShop shop, Guid proveOut, Meanwhile page)
    {
        await Assertions
            .Expect(tablet.Page.Locator("html:not([data-kept])"))
            .ToHaveCountAsync(1, new() { Timeout = 60_000 });
        var step = (await shop.Opened(proveOut)).ProveOut.Steps.First(s => s.Id == "ready.signed");
        if (page is Meanwhile.IsLoadedAgain or Meanwhile.IsClosedAndOpened && step.State is StepState.Done)
            return;
        await Sign(tablet);
        await tablet.Page.WaitForURLAsync("**after=ready.signed");
    }

    static async Task<List<Entry>> Made(JourneyShop shop, Guid proveOut, long after) =>
        [.. (await shop.Opened(proveOut)).Entries.Where(e => e.Number > after)];
}
