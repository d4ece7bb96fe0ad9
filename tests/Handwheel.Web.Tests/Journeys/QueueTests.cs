using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>What is entered while the network is bad: seen as not saved, kept, and counted once.</summary>
public sealed class QueueTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    const string Acts = "**/api/prove-outs/*/acts";
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
        await tablet.Page.GotoAsync($"/floor/prove-outs/{proveOut}");
        Assert.Equal("ready.machine.referenced", await tablet.StepId());
    }

    ILocator Saved => tablet.Page.Locator("#saved");

    Task Tick() => tablet.Page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }).ClickAsync();

    async Task<int> TimesRecorded(string step) => (await shop.Opened(proveOut)).Entries.Count(e => e.Act.About == step);

    [Fact]
    public async Task An_answer_that_is_lost_on_the_way_back_counts_once()
    {
        var lost = 0;
        await context.RouteAsync(
            Acts,
            async route =>
            {
                var answer = await route.FetchAsync();
                if (lost++ == 0)
                    await route.AbortAsync();
                else
                    await route.FulfillAsync(new() { Response = answer });
            }
        );

        await Tick();
        await Assertions
            .Expect(tablet.Page.Locator("article"))
            .ToHaveAttributeAsync("data-step", "ready.machine.guards");

        Assert.True(lost >= 2, "the tablet did not send it again");
        Assert.Equal(1, await TimesRecorded("ready.machine.referenced"));
    }

    [Fact]
    public async Task A_page_left_open_by_somebody_else_records_nothing_in_the_name_of_who_is_signed_in_now()
    {
        var other = new TabletPage(await context.NewPageAsync());
        await other.SignIn("Night setter", JourneyShop.Pin);

        await Tick();
        await Assertions.Expect(Saved).ToContainTextAsync("Sign in as Day setter to save what is entered here");
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED: Referenced and warm");
        Assert.Equal(0, await TimesRecorded("ready.machine.referenced"));

        await other.SignIn("Day setter", JourneyShop.Pin);
        await Assertions.Expect(other.Page.Locator("#saved")).ToHaveAttributeAsync("data-state", "saved");
        var entry = (await shop.Opened(proveOut)).Entries.Single(e => e.Act.About == "ready.machine.referenced");
        Assert.Equal("Day setter", entry.By.Name);
    }

    [Theory]
    [InlineData("black hole")]
    [InlineData("captive portal")]
    [InlineData("bad gateway")]
    public async Task Without_the_server_it_says_not_saved_and_keeps_it_over_a_closed_page(string network)
    {
        await Break(network);
        await Tick();
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED", new() { Timeout = 2000 });
        await Assertions.Expect(Saved).ToContainTextAsync("Referenced and warm");
        Assert.Equal(0, await TimesRecorded("ready.machine.referenced"));

        // a second press of the same button is not a second entry
        Assert.True(
            await tablet.Page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }).IsDisabledAsync()
        );

        await tablet.Page.CloseAsync();
        await context.UnrouteAllAsync();
        tablet = new TabletPage(await context.NewPageAsync());
        await tablet.Page.GotoAsync($"/floor/prove-outs/{proveOut}");
        await Assertions
            .Expect(tablet.Page.Locator("article"))
            .ToHaveAttributeAsync("data-step", "ready.machine.guards");
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        Assert.Equal(1, await TimesRecorded("ready.machine.referenced"));
    }

    [Fact]
    public async Task What_one_person_entered_is_never_recorded_as_another_person()
    {
        await Break("bad gateway");
        await Tick();
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED");
        await context.UnrouteAllAsync();
        await context.ClearCookiesAsync();
        await context.AddCookiesAsync([shop.TabletCookie]);

        await tablet.SignIn("Night setter", JourneyShop.Pin);
        await Assertions.Expect(Saved).ToContainTextAsync("1 by Day setter");
        Assert.Equal(0, await TimesRecorded("ready.machine.referenced"));

        await tablet.NotMe();
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        var entry = (await shop.Opened(proveOut)).Entries.Single(e => e.Act.About == "ready.machine.referenced");
        Assert.Equal("Day setter", entry.By.Name);
    }

    [Fact]
    public async Task A_refusal_stays_until_it_is_seen_and_says_why()
    {
        await shop.Do(proveOut, new Handwheel.Jobs.Proving.Ticked("ready.machine.referenced"), shop.NightSetter);
        await Tick();

        var refused = tablet.Page.Locator("#refused");
        await Assertions.Expect(Saved).ToContainTextAsync("REFUSED");
        await Assertions.Expect(refused).ToContainTextAsync("Night setter");

        await tablet.NotMe();
        await tablet.SignIn("Night setter", JourneyShop.Pin);
        await Assertions.Expect(Saved).ToContainTextAsync("REFUSED: 1 by Day setter");
        await Assertions.Expect(Saved).Not.ToContainTextAsync("NOT SAVED");
        await tablet.NotMe();
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await tablet.Page.GotoAsync($"/floor/prove-outs/{proveOut}");
        await refused.GetByRole(AriaRole.Button).ClickAsync();
        await Assertions
            .Expect(tablet.Page.Locator("article"))
            .ToHaveAttributeAsync("data-step", "ready.machine.guards");
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
    }

    [Fact]
    public async Task Signing_without_the_server_says_so_and_keeps_no_pin()
    {
        await tablet.Page.GotoAsync($"/floor/machines/{shop.MachineId}/handoff");
        foreach (var box in await tablet.Page.Locator("textarea").AllAsync())
            await box.FillAsync("none");
        await Break("bad gateway");
        await tablet.TypeOnKeypad("pin", JourneyShop.Pin);
        await tablet.Page.GetByRole(AriaRole.Button, new() { Name = "Sign and hand over" }).ClickAsync();

        await Assertions.Expect(tablet.Page.Locator("[data-answer]")).ToContainTextAsync("not signed");
        Assert.Equal("", await tablet.Page.Locator("#pin").InputValueAsync());
        Assert.Equal(0, await tablet.Page.EvaluateAsync<int>(CountQueue));
    }

    [Fact]
    public async Task A_tablet_that_nobody_touches_signs_its_person_out()
    {
        await tablet.Page.Clock.InstallAsync();
        await tablet.Page.ReloadAsync();
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        await tablet.Page.Clock.FastForwardAsync("11:00");
        await tablet.Page.WaitForURLAsync("**/floor/sign-in?**");
        await Assertions.Expect(tablet.Page.GetByText("Nobody is signed in")).ToBeVisibleAsync();
    }

    const string CountQueue = """
        () => new Promise((done) => {
            const open = indexedDB.open("handwheel-floor");
            open.onsuccess = () => {
                const count = open.result.transaction("queue").objectStore("queue").count();
                count.onsuccess = () => done(count.result);
            };
        })
        """;

    Task<IAsyncDisposable> Break(string network) =>
        context.RouteAsync(
            url =>
                url.Contains("/api/", StringComparison.Ordinal)
                || url.Contains("/floor/heartbeat", StringComparison.Ordinal),
            route => network == "black hole" ? Task.CompletedTask : Answer(network, route)
        );

    /// <summary>Something on the way answers in the server's place.</summary>
    static Task Answer(string network, IRoute route) =>
        network == "captive portal"
            ? route.FulfillAsync(
                new()
                {
                    Status = 200,
                    ContentType = "text/html",
                    Body = "<h1>Accept the terms of this network</h1>",
                }
            )
            : route.FulfillAsync(new() { Status = 502, Body = "bad gateway" });

    [Fact]
    public async Task Without_its_script_the_page_still_records_and_refuses()
    {
        await using var plain = await browser.Tablet(shop.Address, script: false);
        await plain.AddCookiesAsync([shop.TabletCookie]);
        var page = await plain.NewPageAsync();
        await page.GotoAsync("/floor/sign-in");
        await page.GetByRole(AriaRole.Link, new() { Name = "Day setter" }).ClickAsync();
        await page.GetByLabel("PIN").FillAsync(JourneyShop.Pin);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.GotoAsync($"/floor/prove-outs/{proveOut}");
        await page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }).ClickAsync();
        Assert.Equal(1, await TimesRecorded("ready.machine.referenced"));

        // the same form sent twice is one entry
        var form = page.Locator("form[data-queue]").First;
        var fields = plain.APIRequest.CreateFormData();
        foreach (var name in new[] { "act", "key", "basedOn" })
            fields.Append(name, await form.Locator($"[name={name}]").InputValueAsync());
        for (var i = 0; i < 2; i++)
        {
            var answer = await plain.APIRequest.PostAsync(
                $"/floor/prove-outs/{proveOut}/acts",
                new()
                {
                    Form = fields,
                    Headers = new Dictionary<string, string> { ["Origin"] = shop.Address },
                }
            );
            Assert.Equal(200, answer.Status);
        }
        Assert.Equal(1, await TimesRecorded("ready.machine.guards"));

        await page.GotoAsync($"/floor/prove-outs/{proveOut}?step=ready.machine.rapid");
        await page.GetByLabel("What the switch stands at").FillAsync("2,5");
        await page.GetByRole(AriaRole.Button, new() { Name = "Record reading" }).ClickAsync();
        await Assertions.Expect(page.GetByText("comma")).ToBeVisibleAsync();
        Assert.Equal(0, await TimesRecorded("ready.machine.rapid"));
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null)
            await context.DisposeAsync();
        await shop.DisposeAsync();
    }
}
