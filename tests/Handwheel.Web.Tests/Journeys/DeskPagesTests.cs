using Handwheel.Jobs.Proving;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Tests.Data;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>Every page at the desk, empty, full, refused and of an ended prove-out, looked at by axe.</summary>
public sealed class DeskPagesTests(Browser browser) : IClassFixture<Browser>
{
    /// <summary>What a supervisor who is also an administrator can open in a shop with no job yet.</summary>
    static readonly string[] WithoutJobs =
    [
        "/",
        "/about",
        "/cutting-data",
        "/cutting-data/edit",
        "/findings",
        "/findings/tap-feed",
        "/jobs",
        "/jobs/new",
        "/machines",
        "/machines/new",
        "/my-pin",
        "/people",
        "/people/new",
        "/programs",
        "/prove-out-rules",
        "/prove-out-rules/edit",
        "/records",
        "/tablets",
        "/no-such-page",
    ];

    readonly List<string> faults = [];
    IPage page = null!;

    /// <summary>The measure itself: a picture without words, text of 3.5:1, and text of 5:1, which only the pages at the machine forbid.</summary>
    [Fact]
    public async Task A_barrier_is_found()
    {
        await using var context = await browser.Tablet("http://127.0.0.1");
        page = await context.NewPageAsync();
        await page.SetContentAsync(
            """
            <!doctype html><html lang="en"><title>t</title><body style="background: #fff"><main>
            <h1>Heading</h1><img src="data:," width="20" height="20"><p style="color: #888">too pale</p><p style="color: #707070">pale</p>
            </main></body></html>
            """
        );
        await Axe("planted");
        Assert.Equal(["color-contrast", "image-alt"], faults.Select(f => f.Split(": ")[1]).Order());
        var enhanced = (await PageMeasure.AxeAtTheMachine(page)).Where(f =>
            f.StartsWith("color-contrast-enhanced", StringComparison.Ordinal)
        );
        Assert.Contains(">pale<", Assert.Single(enhanced), StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_page_at_the_desk_has_a_barrier()
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        await using var context = await browser.Tablet(shop.Address);
        page = await context.NewPageAsync();
        await Look("/sign-in");
        await page.GetByLabel("Who are you").SelectOptionAsync("Supervisor");
        await page.GetByLabel("Password or PIN").FillAsync("a wrong password");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.GetByText("Not signed in").First.WaitForAsync();
        await Axe("signing in refused");
        await SignIn();

        foreach (var path in WithoutJobs)
            await Look(path);
        var job = (await shop.Get<JobReader>().Open(shop.JobId))!;
        var proveOut = await shop.WalkTo("restore.reset");
        await Look($"/machines/{shop.MachineId}");
        await Look($"/people/{shop.DaySetter.Person}");
        await Look($"/programs/{job.ProgramSha256}");
        await Look("/jobs/1");
        foreach (var part in new[] { "path", "program", "setup", "subprograms", "again" })
            await Look($"/jobs/1/{part}");
        await Look("/");
        var words = SmallShop.Words();
        words["raised"] = "G54 Z, as last read";
        words["locked-out"] = "door switch bypassed";
        await shop.Do(proveOut, new HandedOver(words));
        await shop.Do(proveOut, new Abandoned("the casting is cracked"));
        foreach (var path in new[] { "/", $"/machines/{shop.MachineId}", "/jobs/1" })
        {
            await Look(path);
            await Assertions
                .Expect(page.Locator("main"))
                .ToContainTextAsync("Locked out or bypassed: door switch bypassed");
        }
        await Look("/records");
        await Look($"/records/{proveOut}");
        PageMeasure.HasNo(faults);
    }

    const string PutAway = "Put it away";
    const string PutBack = "Put it back on the list";

    ILocator Unheard => page.Locator("#not-heard");

    /// <summary>
    /// Pages at the desk live on a circuit, and the framework tells half a minute later that a network only swallows. Swallowed, cut and
    /// forgotten by the server (a circuit is never resumed by itself), and a server started anew: no press goes without a word, and
    /// what the page says when it is loaded again is what is so.
    /// </summary>
    [Fact]
    public async Task What_is_pressed_on_a_page_that_lost_its_server_is_said_to_be_not_saved()
    {
        await using var shop = new JourneyShop { ForgetsCircuits = true };
        await shop.Open();
        await using var another = new ShopApp();
        another.UseKestrel(0);
        another.StartServer();
        await using var network = new BadNetwork(shop.Address);
        await using var context = await browser.Tablet(network.Address);
        page = await context.NewPageAsync();
        await DeskPage.SignIn(page);
        await DeskPage.Open(page, "/jobs/1");
        await Press(PutAway);
        await Assertions.Expect(Named(PutBack)).ToBeVisibleAsync();
        Assert.True(await page.EvaluateAsync<bool>("DotNet.invokeMethodAsync('handwheel', 'Heard').then(() => true)"));
        await Assertions.Expect(Unheard).ToBeHiddenAsync();

        network.Fault = Fault.BlackHole;
        await Press(PutBack);
        await Assertions.Expect(Unheard).ToContainTextAsync("take it as not saved");
        await Assertions.Expect(page.Locator(".connection-lost")).ToBeHiddenAsync();
        await LoadedAgainTellsWhatIsSo(network);

        network.Fault = Fault.Reset;
        await Press(PutBack);
        await Assertions.Expect(Unheard).ToBeVisibleAsync();
        network.Fault = Fault.None;
        await Assertions.Expect(page.Locator(".connection-lost-over")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await LoadedAgainTellsWhatIsSo(network);

        network.Fault = Fault.Reset;
        await Press(PutBack);
        network.LeadsTo(another.ClientOptions.BaseAddress.ToString());
        network.Fault = Fault.None;
        await Assertions.Expect(page.Locator(".connection-lost-over")).ToBeVisibleAsync(new() { Timeout = 60_000 });
        network.LeadsTo(shop.Address);
        await LoadedAgainTellsWhatIsSo(network);
        Assert.True((await shop.Get<JobReader>().Open(shop.JobId))!.Job.PutAway);

        // A page that cannot become alive takes nothing, and says so.
        await context.RouteAsync("**/_blazor/**", route => route.AbortAsync());
        await page.ReloadAsync();
        var notAlive = page.Locator("#not-alive");
        await Assertions.Expect(notAlive).ToContainTextAsync("takes nothing");
        await context.UnrouteAllAsync();
        await notAlive.GetByRole(AriaRole.Button).ClickAsync();
        await DeskPage.IsAlive(page);
        await Assertions.Expect(notAlive).ToBeHiddenAsync();

        // At the machine nothing hangs on a circuit.
        await page.GotoAsync("/floor/sign-in");
        Assert.DoesNotContain("blazor", await page.ContentAsync(), StringComparison.OrdinalIgnoreCase);
    }

    ILocator Named(string button) => page.GetByRole(AriaRole.Button, new() { Name = button, Exact = true });

    Task Press(string button) => Named(button).ClickAsync();

    async Task LoadedAgainTellsWhatIsSo(BadNetwork network)
    {
        network.Fault = Fault.None;
        await Unheard.GetByRole(AriaRole.Button).ClickAsync();
        await Assertions.Expect(Unheard).ToBeHiddenAsync(); // the page that came
        await DeskPage.IsAlive(page);
        await Assertions.Expect(Named(PutBack)).ToBeVisibleAsync();
    }

    async Task SignIn()
    {
        await page.GetByLabel("Who are you").SelectOptionAsync("Supervisor");
        await page.GetByLabel("Password or PIN").FillAsync(JourneyShop.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
    }

    async Task Look(string path)
    {
        await page.GotoAsync(path, new() { WaitUntil = WaitUntilState.NetworkIdle });
        await page.Locator("h1").First.WaitForAsync();
        await Assertions.Expect(page.Locator("fieldset.page:disabled")).ToHaveCountAsync(0);
        await Axe(path);
    }

    async Task Axe(string what) => faults.AddRange((await PageMeasure.AxeAtDesk(page)).Select(f => $"{what}: {f}"));
}
