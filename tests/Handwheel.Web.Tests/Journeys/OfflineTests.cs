using System.Globalization;
using Handwheel.Jobs.Proving;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>The server cannot be reached: pages that this tablet has seen open, say how old they are, and record; the server judges later.</summary>
public sealed class OfflineTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    readonly JourneyShop shop = new();
    BadNetwork network = null!;
    IBrowserContext context = null!;
    TabletPage tablet = null!;
    Guid proveOut;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        proveOut = await shop.WalkTo("restore.reset");
        network = new BadNetwork(shop.Address);
        context = await browser.Tablet(network.Address, keepsPages: true);
        await context.AddCookiesAsync([shop.TabletCookie]);
        tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await Page.GotoAsync(Runner);
        await tablet.KeepsPages();
    }

    IPage Page => tablet.Page;
    string Runner => $"/floor/prove-outs/{proveOut}";
    ILocator Saved => Page.Locator("#saved");
    ILocator Live => Page.Locator("html:not([data-kept])");

    ILocator Button(string name) => Page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    /// <summary>A page of its own on the same tablet, as after the browser was closed and opened again.</summary>
    async Task OpenAnew(string path)
    {
        await Page.CloseAsync();
        tablet = new TabletPage(await context.NewPageAsync());
        await Page.GotoAsync(path);
    }

    [Theory]
    [InlineData(Fault.Reset)]
    [InlineData(Fault.BlackHole)]
    [InlineData(Fault.CaptivePortal)]
    [InlineData(Fault.HalfBody)]
    public async Task A_prove_out_that_was_seen_opens_without_the_server_and_says_how_old_it_is(Fault fault)
    {
        network.Fault = fault;
        await OpenAnew(Runner);

        await Assertions.Expect(Saved).ToContainTextAsync("OPENED WITHOUT CONNECTION");
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "waiting");
        await Assertions.Expect(Page.Locator(".banner .where")).ToContainTextAsync(SpacerPlate.Machine);
        await Assertions.Expect(Page.Locator(".hazard")).ToContainTextAsync("G54 Z still raised 2.0000 in");
        Assert.Equal("restore.reset", await tablet.StepId());
        Assert.Equal("start", await Page.EvaluateAsync<string>("getComputedStyle(document.body).textAlign"));
        Assert.True(
            await Page.EvaluateAsync<bool>("getComputedStyle(document.querySelector('.banner')).display === 'grid'"),
            "the page came without its style"
        );

        await Page.Clock.InstallAsync();
        await Page.Clock.FastForwardAsync("25:00");
        await Assertions.Expect(Saved).ToContainTextAsync("this page is 25 min old");

        network.Fault = Fault.None;
        await Page.Clock.ResumeAsync();
        await Assertions.Expect(Live).ToHaveCountAsync(1, new() { Timeout = 60_000 });
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
    }

    [Fact]
    public async Task Without_the_server_steps_are_recorded_marked_so_and_judged_later()
    {
        network.Fault = Fault.Reset;
        await Button("Done, as it says here").ClickAsync();
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED");
        await Page.GetByRole(AriaRole.Link, new() { Name = "Go on without connection" }).ClickAsync();
        await Page.GetByRole(AriaRole.Button, new() { Name = "Go on: G54: " }).First.ClickAsync();
        foreach (var (step, typed) in new[] { ("restore.offset.G54.x", "-20.1234"), ("restore.offset.G54.y", "-11") })
        {
            Assert.Equal(step, await tablet.StepId());
            await tablet.TypeOnKeypad("typed", typed);
            await Button("Record reading").First.ClickAsync();
            await Assertions.Expect(Page.GetByText("Whether it is right is said")).ToBeVisibleAsync();
            await Page.Locator("#kept-step").GetByRole(AriaRole.Button, new() { Name = "Go on: " }).ClickAsync();
        }
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED");
        await Assertions.Expect(Page.Locator("#kept-list")).ToContainTextAsync("recorded, not judged yet");
        Assert.DoesNotContain((await shop.Opened(proveOut)).Entries, e => e.Act.About == "restore.reset");

        await OpenAnew(Runner); // the queue outlives the browser
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED");
        Assert.Equal(0, await Page.Locator("article[data-step='restore.reset']").CountAsync());

        network.Fault = Fault.None;
        await Assertions.Expect(Live).ToHaveCountAsync(1, new() { Timeout = 60_000 });
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        var open = await shop.Opened(proveOut);
        string[] steps = ["restore.reset", "restore.offset.G54.x", "restore.offset.G54.y"];
        Assert.Equal(steps, open.Entries.Select(e => e.Act.About).Where(a => steps.Contains(a)));
        Assert.All(
            open.Entries.Where(e => e.Act.About is "restore.offset.G54.x" or "restore.offset.G54.y"),
            e => Assert.True(e.Kept is { Waited: >= 0 }, "not marked as recorded without connection")
        );
        Assert.Equal(StepState.ReadAgain, open.ProveOut.Steps.First(s => s.Id == "restore.offset.G54.y").State);
        await Page.GotoAsync($"{Runner}?step=restore.offset.G54.x");
        await Assertions
            .Expect(Page.Locator("article"))
            .ToContainTextAsync("recorded on the tablet without connection");
    }

    [Fact]
    public async Task What_was_recorded_before_an_interruption_by_somebody_else_is_refused_and_shown()
    {
        network.Fault = Fault.Reset;
        await Assertions.Expect(Saved).ToContainTextAsync("NO CONNECTION");
        await Button("Done, as it says here").ClickAsync();
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED");
        await shop.Do(proveOut, new HoldingChanged("left clamp lower"), shop.NightSetter);

        network.Fault = Fault.None;
        await Assertions.Expect(Page.Locator("#refused")).ToContainTextAsync("waited on a tablet without connection");
        await Assertions.Expect(Page.Locator("#refused")).ToContainTextAsync("Night setter");
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task An_interruption_recorded_without_the_server_ends_what_can_be_recorded(bool inOwnWords)
    {
        network.Fault = Fault.Reset;
        await OpenAnew(Runner);
        if (inOwnWords)
        {
            await Page.GetByText("Something else, or more words").ClickAsync();
            await Page.GetByLabel("What happened").FillAsync("power loss");
            await Button("Record the interruption").ClickAsync();
        }
        else
            await Button("Power loss").ClickAsync();
        await Assertions.Expect(Page.GetByText("Nothing goes on here until the server has it")).ToBeVisibleAsync();
        await Assertions.Expect(Page.Locator("#kept-list button:enabled")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task Without_the_server_nobody_signs_in_and_the_page_says_so_and_what_it_can_open()
    {
        network.Fault = Fault.Reset;
        await OpenAnew("/floor");
        await Assertions.Expect(Page.GetByRole(AriaRole.Heading, new() { Name = "No connection" })).ToBeVisibleAsync();
        await Assertions.Expect(Page.GetByText("Signing in, signing, handing over")).ToBeVisibleAsync();
        await Assertions.Expect(Page.Locator("#kept-pages")).ToContainTextAsync("Spacer plate");
        await Assertions.Expect(Page.Locator("#kept-pages")).ToContainTextAsync("ago");
        await Page.Locator("#kept-pages a").ClickAsync();
        Assert.Equal("restore.reset", await tablet.StepId());
    }

    [Fact]
    public async Task The_list_without_the_server_says_who_is_here_what_could_hurt_and_saves_by_itself()
    {
        network.Fault = Fault.Reset;
        await Button("Done, as it says here").ClickAsync();
        await Assertions.Expect(Saved).ToContainTextAsync("NO CONNECTION");
        await OpenAnew("/floor");
        var who = Page.Locator(".banner .who");
        await Assertions.Expect(who).ToContainTextAsync("Day setter Tablet by Mill 9");
        await Assertions.Expect(who).Not.ToContainTextAsync("Nobody is signed in", new() { UseInnerText = true });
        await Assertions.Expect(Saved).ToContainTextAsync("Kept on this tablet.");
        await Assertions.Expect(Saved).Not.ToContainTextAsync("must sign in");
        var kept = Page.Locator("#kept-pages li");
        await Assertions.Expect(kept).ToHaveCountAsync(1);
        await Assertions.Expect(kept).ToContainTextAsync("WARNING G54 Z still raised 2.0000 in, read");
        await Assertions.Expect(kept).ToContainTextAsync("Restore, next: ");

        network.Fault = Fault.None;
        await Assertions.Expect(Live).ToHaveCountAsync(1, new() { Timeout = 60_000 });
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        var entry = (await shop.Opened(proveOut)).Entries.Single(e => e.Act.About == "restore.reset");
        Assert.Equal("Day setter", entry.By.Name);
    }

    [Fact]
    public async Task What_ended_elsewhere_stands_last_in_the_list_and_says_so()
    {
        await shop.Do(proveOut, new Abandoned("the casting is cracked"));
        await Page.GotoAsync("/floor"); // a page without a step looks again at what is kept
        await Page.EvaluateAsync(
            """
            async path => {
                const pages = await caches.open("handwheel-pages");
                while (!/data-ended/.test(await (await pages.match(path)).text()))
                    await new Promise(wait => setTimeout(wait, 100));
            }
            """,
            $"{Runner}/kept"
        );
        network.Fault = Fault.Reset;
        await OpenAnew("/floor");
        await Assertions.Expect(Page.Locator("#kept-pages li").Last).ToContainTextAsync("Abandoned");
    }

    [Fact]
    public async Task Not_me_without_the_server_takes_the_pages_away_and_the_server_is_told_later()
    {
        network.Fault = Fault.Reset;
        await Button("Done, as it says here").ClickAsync();
        await Assertions.Expect(Saved).ToContainTextAsync("NO CONNECTION");
        await tablet.NotMe();
        await Assertions.Expect(Page.GetByText("Nobody is signed in")).ToBeVisibleAsync();
        await Assertions.Expect(Saved).ToContainTextAsync("1 by Day setter");
        await Assertions.Expect(Page.GetByText("The server is told so as soon as it answers")).ToBeVisibleAsync();
        await Assertions.Expect(Page.GetByText("take it as not done")).ToBeHiddenAsync();
        // Who comes next has no server to ask: what could hurt stays, the pages do not.
        await Assertions
            .Expect(Page.Locator("#last-heard"))
            .ToContainTextAsync("Spacer plate, op 10, rev A WARNING G54 Z still raised 2.0000 in");
        await Assertions.Expect(Page.Locator("#kept-pages a")).ToHaveCountAsync(0);
        await OpenAnew(Runner);
        await Assertions.Expect(Page.GetByText("Nobody is signed in")).ToBeVisibleAsync();
        Assert.Equal(0, await tablet.Step.CountAsync());

        network.Fault = Fault.None;
        await Page.WaitForURLAsync("**/floor/sign-in?**", new() { Timeout = 60_000 });
        Assert.DoesNotContain((await shop.Opened(proveOut)).Entries, e => e.Act.About == "restore.reset");

        await tablet.SignIn("Night setter", JourneyShop.Pin);
        await Assertions.Expect(Saved).ToContainTextAsync("1 by Day setter");
        await tablet.NotMe();
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        var entry = (await shop.Opened(proveOut)).Entries.Single(e => e.Act.About == "restore.reset");
        Assert.Equal("Day setter", entry.By.Name);
    }

    [Fact]
    public async Task What_a_tablet_keeps_is_one_persons_and_has_neither_a_secret_nor_what_a_blind_reading_should_be()
    {
        var kept = await Page.EvaluateAsync<string>(
            """
            async () => {
                const texts = [JSON.stringify(localStorage), JSON.stringify(sessionStorage)];
                for (const name of await caches.keys())
                    for (const request of await (await caches.open(name)).keys())
                        if (/floor/.test(request.url)) texts.push(await (await caches.match(request)).text());
                return texts.join("\n");
            }
            """
        );
        Assert.Contains("restore.offset.G54.z", kept, StringComparison.Ordinal);
        foreach (var step in (await shop.Opened(proveOut)).ProveOut.Steps.Where(s => s is { Blind: true, Typed: null }))
        {
            var value = SpacerPlate.Reading(step.Id).TrimStart('-').TrimEnd('0');
            if (value.Length > 2)
                Assert.DoesNotContain(value, kept, StringComparison.Ordinal);
        }
        Assert.DoesNotContain(JourneyShop.Pin, kept, StringComparison.Ordinal);
        Assert.DoesNotContain(shop.TabletCookie.Value, kept, StringComparison.Ordinal);

        await tablet.NotMe();
        await tablet.SignIn("Night setter", JourneyShop.Pin);
        Assert.Equal(
            0,
            await Page.EvaluateAsync<int>("caches.open('handwheel-pages').then(c => c.keys()).then(k => k.length)")
        );
    }

    [Theory]
    [InlineData(1280, 800, "dark-left")]
    [InlineData(390, 844, "light-right")]
    public async Task Pages_without_the_server_fit_a_glove_and_are_read_by_everybody(
        int width,
        int height,
        string choices
    )
    {
        await Page.Context.AddCookiesAsync([
            new()
            {
                Name = "floor-choices",
                Value = choices,
                Url = new Uri(Page.Url).GetLeftPart(UriPartial.Authority),
            },
        ]);
        await Page.GotoAsync(Runner);
        await tablet.KeepsPages();
        await Page.SetViewportSizeAsync(width, height);
        var faults = new List<string>();
        async Task Look(string name)
        {
            await PageMeasure.Keep(Page, string.Create(CultureInfo.InvariantCulture, $"without-{name}-{width}"));
            await Page.EvaluateAsync("document.querySelectorAll('details').forEach(d => (d.open = true))");
            faults.AddRange((await PageMeasure.Faults(Page)).Select(f => $"{name}: {f}"));
        }
        network.Fault = Fault.Reset;
        await OpenAnew(Runner);
        await Page.SetViewportSizeAsync(width, height);
        await Assertions.Expect(tablet.Step).ToHaveCountAsync(1);
        await Look("kept");
        await Page.GotoAsync("/floor");
        await Assertions.Expect(Page.Locator("#kept-pages a")).ToHaveCountAsync(1);
        await Look("no-connection");
        Assert.Empty(faults);
    }

    [Fact]
    public async Task Who_goes_on_for_somebody_else_is_told_what_to_look_at_again_until_they_have()
    {
        await tablet.NotMe();
        await tablet.SignIn("Night setter", JourneyShop.Pin);
        await Page.GotoAsync(Runner);
        var again = Page.Locator(".look-again");
        await Assertions.Expect(again).ToContainTextAsync("by Day setter on tablet by Mill 9");
        await Assertions.Expect(again.GetByText("G54 Z still raised 2.0000 in")).ToBeVisibleAsync();
        await PageMeasure.Keep(Page, "look-again-1280");
        Assert.Empty(await PageMeasure.Faults(Page));

        await Button("I have looked at these").ClickAsync();
        await Assertions.Expect(again.GetByText("G54 Z still raised 2.0000 in")).ToBeHiddenAsync();
        await Page.ReloadAsync();
        await Assertions.Expect(again.GetByText("G54 Z still raised 2.0000 in")).ToBeHiddenAsync();
        await tablet.Press("Done, as it says here");
        await Assertions.Expect(again).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task It_can_be_installed_and_its_files_are_of_one_version()
    {
        var manifest = await Page.EvaluateAsync<string>(
            "fetch(document.querySelector('link[rel=manifest]').href).then(a => a.text())"
        );
        using var read = System.Text.Json.JsonDocument.Parse(manifest);
        Assert.Equal("/floor", read.RootElement.GetProperty("start_url").GetString());
        foreach (var icon in read.RootElement.GetProperty("icons").EnumerateArray())
        {
            var address = icon.GetProperty("src").GetString()!;
            var size = await Page.EvaluateAsync<int>(
                "src => new Promise(r => { const i = new Image(); i.onload = () => r(i.naturalWidth); i.onerror = () => r(0); i.src = src; })",
                address
            );
            var said = icon.GetProperty("sizes").GetString()!;
            Assert.True(size > 0, $"{address} is no picture");
            if (said != "any")
                Assert.Equal(size.ToString(CultureInfo.InvariantCulture), said.Split('x')[0]);
        }
        var kept = await Page.EvaluateAsync<string[]>("caches.keys()");
        var version = await Page.Locator("html").GetAttributeAsync("data-version");
        Assert.Contains($"handwheel-files {version}", kept);
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null)
            await context.DisposeAsync();
        if (network is not null)
            await network.DisposeAsync();
        await shop.DisposeAsync();
    }
}
