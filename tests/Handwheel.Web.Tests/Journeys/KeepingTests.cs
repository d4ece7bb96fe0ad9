using Handwheel.Jobs.Proving;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>What a tablet keeps and for whom: half-typed values, a queue of an older version, and no word of "saved" where nothing can be kept.</summary>
public sealed class KeepingTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    const string Acts = "**/api/prove-outs/*/acts";
    const string Rapid = "ready.machine.rapid";
    readonly JourneyShop shop = new();
    IBrowserContext context = null!;
    TabletPage tablet = null!;
    Guid proveOut;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        proveOut = await shop.WalkTo("ready.machine.referenced");
        context = await browser.Tablet(shop.Address);
        await context.AddCookiesAsync([shop.TabletCookie]);
        tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
    }

    IPage Page => tablet.Page;
    ILocator Saved => Page.Locator("#saved");
    string Runner => $"/floor/prove-outs/{proveOut}";
    string AtRapid => $"{Runner}?step={Rapid}";

    async Task<int> TimesRecorded(string step) => (await shop.Opened(proveOut)).Entries.Count(e => e.Act.About == step);

    [Fact]
    public async Task What_is_half_typed_survives_a_reload_for_its_person_alone_and_goes_when_it_is_sent()
    {
        await Page.GotoAsync(AtRapid);
        await tablet.TypeOnKeypad("typed", "2.5");
        await Page.GetByText("Write a note").ClickAsync();
        await Page.GetByLabel("Note", new() { Exact = true }).FillAsync("the door sti");
        await Page.ReloadAsync();
        await Assertions.Expect(Page.Locator("#typed")).ToHaveValueAsync("2.5");
        await Assertions.Expect(Page.GetByLabel("Note", new() { Exact = true })).ToHaveValueAsync("the door sti");

        await Page.GotoAsync(Runner);
        Assert.Equal(0, await Page.Locator("#typed").CountAsync());
        await tablet.NotMe();
        await tablet.SignIn("Night setter", JourneyShop.Pin);
        await Page.GotoAsync(AtRapid);
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        await Assertions.Expect(Page.Locator("#typed")).ToHaveValueAsync("");
        await Assertions.Expect(Page.GetByLabel("Note", new() { Exact = true })).ToHaveValueAsync("");

        await tablet.NotMe();
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await Page.GotoAsync(AtRapid);
        await Assertions.Expect(Page.Locator("#typed")).ToHaveValueAsync("2.5");
        await Page.Locator("#typed").FillAsync("2");
        await Page.GetByRole(AriaRole.Button, new() { Name = "Record reading" }).First.ClickAsync();
        var sent = Page.Locator("form[data-sent]");
        await Assertions.Expect(sent).ToContainTextAsync("half typed on this page");
        await Assertions.Expect(sent.GetByRole(AriaRole.Button, new() { Name = "Record reading" })).ToBeDisabledAsync();
        await Page.GotoAsync(AtRapid);
        await Page.ReloadAsync();
        Assert.Equal(1, await TimesRecorded(Rapid));
        Assert.DoesNotContain(
            "act.typed",
            await Page.EvaluateAsync<string>("JSON.stringify(localStorage)"),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task A_half_typed_PIN_is_never_kept()
    {
        await Page.GotoAsync($"/floor/machines/{shop.MachineId}/handoff");
        await tablet.TypeOnKeypad("pin", "7305");
        var kept = await Page.EvaluateAsync<string>("JSON.stringify(localStorage)");
        Assert.DoesNotContain("7305", kept, StringComparison.Ordinal);
        await Page.ReloadAsync();
        await Assertions.Expect(Page.Locator("#pin")).ToHaveValueAsync("");
    }

    /// <summary>Private browsing, storage switched off, no room: told before the first tick, and the tick still goes to the server.</summary>
    [Theory]
    [InlineData("indexedDB.open = () => { throw new Error('not allowed'); };", "KEEPS NOTHING")]
    [InlineData(
        "delete window.indexedDB; Object.defineProperty(window, 'indexedDB', { value: undefined });",
        "KEEPS NOTHING"
    )]
    [InlineData(
        "IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); };",
        "NO ROOM LEFT"
    )]
    public async Task A_tablet_that_can_keep_nothing_says_so_before_the_first_tick_and_never_says_saved(
        string broken,
        string told
    )
    {
        await context.AddInitScriptAsync(broken);
        await Page.GotoAsync(Runner);
        await Assertions.Expect(Saved).ToContainTextAsync(told);
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "waiting");

        await context.RouteAsync(Acts, route => route.AbortAsync());
        var done = Page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" });
        await done.ClickAsync();
        await Assertions.Expect(Page.Locator("form[data-queue] [data-answer]")).ToContainTextAsync("NOT SAVED");
        Assert.Equal(0, await TimesRecorded("ready.machine.referenced"));

        await context.UnrouteAllAsync();
        await done.ClickAsync();
        await Assertions.Expect(Page.Locator("article")).ToHaveAttributeAsync("data-step", "ready.machine.guards");
        Assert.Equal(1, await TimesRecorded("ready.machine.referenced"));
        await Assertions.Expect(Saved).ToContainTextAsync(told);
    }

    /// <summary>A browser that needs room clears what a page keeps, while it is open or between two visits.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task What_the_browser_cleared_before_it_was_saved_is_told_and_never_called_saved(bool closed)
    {
        await Page.GotoAsync(Runner);
        await context.RouteAsync(Acts, route => route.AbortAsync());
        await Page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }).ClickAsync();
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED");
        if (closed)
            await Page.GotoAsync("/handwheel.svg");
        await Page.EvaluateAsync(
            """
            () => new Promise((done, fail) => {
                const deleting = indexedDB.deleteDatabase("handwheel-floor");
                deleting.onsuccess = () => done();
                deleting.onerror = fail;
            })
            """
        );
        if (closed)
            await Page.GotoAsync(Runner);

        await Assertions.Expect(Saved).ToContainTextAsync("REFUSED: Referenced and warm");
        await Assertions.Expect(Page.Locator("#refused")).ToContainTextAsync("cleared what it kept");
        await context.UnrouteAllAsync();
        await Page.Locator("#refused").GetByRole(AriaRole.Button, new() { Name = "Seen" }).ClickAsync();
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        await tablet.Press("Done, as it says here");
        Assert.Equal(1, await TimesRecorded("ready.machine.referenced"));
        Assert.Equal("{}", await Page.EvaluateAsync<string>("localStorage.getItem('handwheel-waiting')"));
    }

    [Fact]
    public async Task An_old_page_beside_a_newer_one_takes_nothing_and_says_so()
    {
        await Page.GotoAsync(Runner);
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        var newer = await context.NewPageAsync();
        await newer.GotoAsync("/handwheel.svg");
        await newer.EvaluateAsync(
            """
            () => new Promise((done) => {
                const opening = indexedDB.open("handwheel-floor", 99);
                opening.onsuccess = () => { opening.result.close(); done(); };
            })
            """
        );
        await Assertions.Expect(Saved).ToContainTextAsync("A NEWER VERSION OF THIS PAGE");
        await Assertions
            .Expect(Page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }))
            .ToBeDisabledAsync();
        await Page.ReloadAsync();
        await Assertions.Expect(Saved).ToContainTextAsync("A NEWER VERSION OF THIS PAGE");
        Assert.Equal(0, await TimesRecorded("ready.machine.referenced"));
    }

    [Fact]
    public async Task A_queue_that_an_older_version_left_is_sent()
    {
        await using var other = await browser.Tablet(shop.Address);
        await other.AddCookiesAsync([shop.TabletCookie]);
        var page = await other.NewPageAsync();
        await page.GotoAsync("/handwheel.svg");
        var row = new
        {
            key = Guid.NewGuid().ToString(),
            order = DateTimeOffset.Parse("2026-11-26T05:00:00Z", null).ToUnixTimeMilliseconds(),
            url = $"/api/prove-outs/{proveOut}/acts",
            proveOut,
            person = shop.DaySetter.Person,
            personName = "Day setter",
            basedOn = (await shop.Opened(proveOut)).ProveOut.Last,
            act = new { kind = "ticked", step = "ready.machine.referenced" },
            step = "ready.machine.referenced",
            says = "Referenced and warm",
            madeAt = "2026-11-27T10:00:00.000Z",
        };
        await page.EvaluateAsync(
            """
            (row) => new Promise((done) => {
                const opening = indexedDB.open("handwheel-floor", 1);
                opening.onupgradeneeded = () => opening.result.createObjectStore("queue", { keyPath: "key" });
                opening.onsuccess = () => {
                    const kept = opening.result.transaction("queue", "readwrite");
                    kept.objectStore("queue").put(row);
                    kept.oncomplete = () => { opening.result.close(); done(); };
                };
            })
            """,
            row
        );
        var later = new TabletPage(page);
        await later.SignIn("Night setter", JourneyShop.Pin);
        await Assertions.Expect(page.Locator("#saved")).ToContainTextAsync("1 by Day setter");
        await Assertions
            .Expect(page.Locator("#saved"))
            .ToContainTextAsync("bring this tablet to where it reaches the server");
        await later.NotMe();
        await later.SignIn("Day setter", JourneyShop.Pin);
        await Assertions.Expect(page.Locator("#saved")).ToHaveAttributeAsync("data-state", "saved");
        var entry = (await shop.Opened(proveOut)).Entries.Single(e => e.Act.About == "ready.machine.referenced");
        Assert.Equal("Day setter", entry.By.Name);
        Assert.NotNull(entry.Kept);
    }

    /// <summary>One that is refused and one that the server fails on, among others: all the rest is saved, in its order.</summary>
    [Theory]
    [InlineData(422)]
    [InlineData(500)]
    public async Task One_bad_entry_never_holds_up_the_others(int status)
    {
        await Page.GotoAsync(Runner);
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        await context.RouteAsync(
            Acts,
            async route =>
            {
                if (!route.Request.PostData!.Contains("the bad one", StringComparison.Ordinal))
                    await route.ContinueAsync();
                else
                    await route.FulfillAsync(
                        new()
                        {
                            Status = status,
                            ContentType = "application/problem+json",
                            Body = """{ "title": "Not done.", "reasons": [ "nobody can read this" ] }""",
                        }
                    );
            }
        );
        await Page.EvaluateAsync(
            """
            async () => {
                const [{ me }, { page }] = [handwheelHere, handwheelTablet];
                for (let i = 0; i < 50; i++)
                    await handwheelQueue.keep({
                        key: handwheelQueue.newKey(), kind: "act", order: Date.now() + i, proveOut: page.proveOut, person: me.id,
                        personName: me.name, url: `/api/prove-outs/${page.proveOut}/acts`, basedOn: page.number, step: "", says: `note ${i}`,
                        act: { kind: "note", text: i === 7 ? "the bad one" : `note ${i}` }, madeAt: new Date().toISOString(),
                    });
            }
            """
        );
        await Page.ReloadAsync();
        await Assertions
            .Expect(Page.Locator("#refused"))
            .ToContainTextAsync("nobody can read this", new() { Timeout = 60_000 });
        await Assertions.Expect(Saved).ToContainTextAsync("REFUSED: note 7.");
        await Assertions.Expect(Saved).Not.ToContainTextAsync("NOT SAVED", new() { Timeout = 60_000 });
        var notes = (await shop.Opened(proveOut))
            .Entries.Select(e => e.Act)
            .OfType<Note>()
            .Select(n => n.Text)
            .ToList();
        Assert.Equal(Enumerable.Range(0, 50).Where(i => i != 7).Select(i => $"note {i}"), notes);
        await Page.Locator("#refused").GetByRole(AriaRole.Button, new() { Name = "Seen" }).ClickAsync();
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null)
            await context.DisposeAsync();
        await shop.DisposeAsync();
    }
}
