using System.Globalization;
using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>Photos wait in the tablet's queue: small, without what the camera wrote into them, after the ticks, and never in their way.</summary>
public sealed class PhotoQueueTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    readonly JourneyShop shop = new();
    BadNetwork network = null!;
    IBrowserContext context = null!;
    TabletPage tablet = null!;
    Guid proveOut;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        proveOut = await shop.WalkTo("ready.machine.referenced");
        network = new BadNetwork(shop.Address);
        context = await browser.Tablet(network.Address);
        await context.AddCookiesAsync([shop.TabletCookie]);
        tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await Page.GotoAsync(Runner);
    }

    IPage Page => tablet.Page;
    string Runner => $"/floor/prove-outs/{proveOut}";
    ILocator Saved => Page.Locator("#saved");
    ILocator Answer => Page.Locator("form[data-photo] [data-answer]");

    async Task Choose(FilePayload photo, string shows = "")
    {
        if (!await Page.Locator("#added-photo").IsVisibleAsync())
            await Page.GetByText("Add a photo").ClickAsync();
        await Page.Locator("#added-photo").SetInputFilesAsync(photo);
        await Page.Locator("#added-photo-caption").FillAsync(shows);
        await Page.GetByRole(AriaRole.Button, new() { Name = "Keep the photo" }).ClickAsync();
    }

    async Task<List<PhotoAdded>> Recorded() =>
        [.. (await shop.Opened(proveOut)).Entries.Select(e => e.Act).OfType<PhotoAdded>()];

    async Task<byte[]> Stored(string sha256)
    {
        await using var db = await shop.Get<IDbContextFactory<HandwheelDb>>().CreateDbContextAsync();
        return (await db.Files.SingleAsync(f => f.Sha256 == sha256)).Content;
    }

    [Fact]
    public async Task A_photo_of_twelve_megapixels_is_scaled_down_turned_upright_and_says_nothing_of_where_it_was_taken()
    {
        await Choose(await Pictures.Jpeg(Page, 4000, 3000), "left clamp");
        await Assertions.Expect(Answer).ToContainTextAsync("Kept on this tablet", new() { Timeout = 60_000 });
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");

        var photo = Assert.Single(await Recorded());
        Assert.Equal(("ready.machine.referenced", "left clamp"), (photo.Step, photo.Caption));
        var stored = await Stored(photo.Sha256);
        Assert.DoesNotContain(Pictures.Secret, Encoding.Latin1.GetString(stored), StringComparison.Ordinal);
        Assert.Equal("1536 x 2048", await SizeOf(photo.Sha256));
    }

    /// <summary>From a program or a page without its script: the server copies the picture without the camera's notes, and it stays upright.</summary>
    [Fact]
    public async Task A_photo_that_was_not_scaled_down_is_stripped_by_the_server_and_stays_upright()
    {
        var photo = await Pictures.Jpeg(Page, 320, 240);
        var answer = await Page.APIRequest.PostAsync(
            "/api/photos",
            new()
            {
                DataByte = photo.Buffer,
                Headers = new Dictionary<string, string> { ["Content-Type"] = "image/jpeg" },
            }
        );
        var sha256 = (await answer.JsonAsync())!.Value.GetProperty("sha256").GetString()!;
        var stored = await Stored(sha256);
        Assert.DoesNotContain(Pictures.Secret, Encoding.Latin1.GetString(stored), StringComparison.Ordinal);
        Assert.Equal("240 x 320", await SizeOf(sha256));
    }

    Task<string> SizeOf(string sha256) =>
        Page.EvaluateAsync<string>(
            "sha => fetch(`/api/photos/${sha}`).then(a => a.blob()).then(createImageBitmap).then(b => `${b.width} x ${b.height}`)",
            sha256
        );

    /// <summary>
    /// Of twelve megapixels each, as many as <c>HANDWHEEL_PHOTOS</c> says (10 is a shift's worth; CI 2), and the app is killed when the
    /// server has the first of them and the tablet does not know it yet.
    /// </summary>
    [Fact]
    public async Task Photos_taken_without_the_server_outlive_an_app_killed_while_it_sends_and_come_after_the_ticks()
    {
        var photos = LongRun.Asked("HANDWHEEL_PHOTOS", 2);
        var names = Enumerable.Range(1, photos).Select(i => string.Create(CultureInfo.InvariantCulture, $"photo {i}"));
        network.Fault = Fault.Reset;
        foreach (var name in names)
        {
            await Choose(await Pictures.Jpeg(Page, 4000, 3000), name);
            await Assertions.Expect(Answer).ToContainTextAsync("Another photo can be taken");
        }
        await Assertions.Expect(Saved).ToContainTextAsync("photo of Referenced and warm; photo of");
        await Page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }).ClickAsync();
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED");
        Assert.Empty(await Recorded());

        var arrived = new TaskCompletionSource();
        await context.RouteAsync(
            "**/api/photos",
            async route =>
            {
                await route.FetchAsync();
                arrived.TrySetResult();
            }
        );
        network.Fault = Fault.None;
        await arrived.Task.WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);
        Assert.Equal("ready.machine.referenced", (await shop.Opened(proveOut)).Entries[^1].Act.About);
        // what the browser still owes to the request in flight holds nobody up
        await context
            .UnrouteAllAsync(new() { Behavior = UnrouteBehavior.IgnoreErrors })
            .WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);
        await Page.CloseAsync().WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);

        tablet = new TabletPage(await context.NewPageAsync());
        await Page.GotoAsync(Runner);
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved", new() { Timeout = 120_000 });
        var made = (await shop.Opened(proveOut)).Entries.TakeLast(photos + 1).Select(e => e.Act).ToList();
        Assert.Equal("ready.machine.referenced", Assert.IsType<Ticked>(made[0]).Step);
        Assert.Equal(names, made.Skip(1).Select(a => Assert.IsType<PhotoAdded>(a).Caption));
        Assert.Equal("1536 x 2048", await SizeOf(Assert.IsType<PhotoAdded>(made[^1]).Sha256));
    }

    [Fact]
    public async Task A_tick_does_not_wait_for_a_photo_that_hangs_in_the_network()
    {
        await context.RouteAsync("**/api/photos", _ => Task.CompletedTask);
        await Choose(await Pictures.Jpeg(Page, 640, 480));
        await Assertions.Expect(Saved).ToContainTextAsync("photo of Referenced and warm");

        await tablet.Press("Done, as it says here");
        Assert.Contains(
            (await shop.Opened(proveOut)).Entries,
            e => e.Act is Ticked { Step: "ready.machine.referenced" }
        );
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED: photo of Referenced and warm");
    }

    /// <summary>One bad item never holds up the rest: refused (422), too large (413), and a server that fails on it (500).</summary>
    [Theory]
    [InlineData(422)]
    [InlineData(413)]
    [InlineData(500)]
    public async Task A_photo_that_the_server_does_not_take_is_shown_with_the_reason_and_can_be_taken_out(int status)
    {
        // The first photo that is sent is the bad one, however often: a page that goes on breaks off what it was sending.
        byte[]? bad = null;
        var takesNone = true;
        await context.RouteAsync(
            "**/api/photos",
            async route =>
            {
                var photo = route.Request.PostDataBuffer!;
                bad ??= photo;
                if (!takesNone || !photo.AsSpan().SequenceEqual(bad))
                    await route.ContinueAsync();
                else
                    await route.FulfillAsync(
                        new()
                        {
                            Status = status,
                            ContentType = "application/problem+json",
                            Body = """{ "title": "Not done.", "reasons": [ "the first one is bad" ] }""",
                        }
                    );
            }
        );
        network.Fault = Fault.Reset;
        await Choose(await Pictures.Jpeg(Page, 640, 480), "bad");
        await Assertions.Expect(Answer).ToContainTextAsync("Another photo can be taken");
        if (status != 500)
            await Choose(await Pictures.Jpeg(Page, 641, 480), "good");
        await Page.GetByRole(AriaRole.Button, new() { Name = "Done, as it says here" }).ClickAsync();
        await Assertions.Expect(Saved).ToContainTextAsync("NO CONNECTION");
        network.Fault = Fault.None;

        var refused = Page.Locator("#refused");
        await Assertions.Expect(refused).ToContainTextAsync("the first one is bad", new() { Timeout = 60_000 });
        await Assertions.Expect(Saved).ToContainTextAsync("REFUSED: photo of");
        // The tick may have been entered while the photo was on its way; it lands while the bad one still stands there.
        await Assertions.Expect(Saved).Not.ToContainTextAsync("NOT SAVED", new() { Timeout = 60_000 });
        Assert.Contains(
            (await shop.Opened(proveOut)).Entries,
            e => e.Act is Ticked { Step: "ready.machine.referenced" }
        );
        if (status == 500)
        {
            takesNone = false;
            await refused.GetByRole(AriaRole.Button, new() { Name = "Try it again" }).ClickAsync();
            await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
            Assert.Equal("bad", Assert.Single(await Recorded()).Caption);
            return;
        }
        await refused.GetByRole(AriaRole.Button, new() { Name = "take this photo out" }).ClickAsync();
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        Assert.Equal("good", Assert.Single(await Recorded()).Caption);
    }

    [Fact]
    public async Task What_is_no_photo_is_refused_in_words_beside_it()
    {
        var noPicture = new FilePayload
        {
            Name = "clamp.jpg",
            MimeType = "image/jpeg",
            Buffer = "no picture"u8.ToArray(),
        };
        await Choose(noPicture);
        await Assertions.Expect(Answer).ToContainTextAsync("neither a JPEG nor a PNG");
        await Assertions.Expect(Saved).ToHaveAttributeAsync("data-state", "saved");
        Assert.Empty(await Recorded());
    }

    [Fact]
    public async Task A_tablet_without_room_says_so_and_the_photo_stays_chosen()
    {
        await context.AddInitScriptAsync(
            """
            const put = IDBObjectStore.prototype.put;
            IDBObjectStore.prototype.put = function (row, ...more) {
                if (row.bytes) throw new DOMException("full", "QuotaExceededError");
                return put.call(this, row, ...more);
            };
            """
        );
        await Page.ReloadAsync();
        network.Fault = Fault.AnswerLost;
        await Choose(await Pictures.Jpeg(Page, 640, 480));
        await Assertions.Expect(Answer).ToContainTextAsync("NOT SAVED", new() { Timeout = 60_000 });
        await Assertions.Expect(Saved).ToContainTextAsync("NOT SAVED: the file chosen on this page");

        network.Fault = Fault.None;
        await Page.GetByRole(AriaRole.Button, new() { Name = "Keep the photo" }).ClickAsync();
        await Assertions.Expect(Answer).ToContainTextAsync("Saved on the server");
        Assert.Single(await Recorded());
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
