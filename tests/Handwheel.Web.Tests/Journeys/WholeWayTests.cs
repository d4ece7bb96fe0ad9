using Handwheel.Web.Tests.Commands;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>A half-set machine, from "still raised" to a released job, as people at a tablet do it.</summary>
public sealed class WholeWayTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task From_a_half_set_machine_over_a_handoff_to_a_released_job()
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        var proveOut = await shop.WalkTo("restore.reset");
        await using var context = await browser.Tablet(shop.Address);
        await context.AddCookiesAsync([shop.TabletCookie]);
        var tablet = new TabletPage(await context.NewPageAsync());
        var page = tablet.Page;

        await tablet.SignIn("Day setter", JourneyShop.Pin);
        await page.GetByRole(AriaRole.Link, new() { Name = "Mill 9" }).First.ClickAsync();
        await Assertions.Expect(page.Locator(".hazard")).ToContainTextAsync("G54 Z still raised 2.0000 in");

        // the first cut while raised: the page says what it waits for, and the server refuses it as well
        await page.GetByRole(AriaRole.Link, new() { Name = "Go on with the prove-out" }).ClickAsync();
        await page.GotoAsync($"/floor/prove-outs/{proveOut}?step=first-cut.tool.1.machine-z");
        await Assertions.Expect(page.Locator(".waits")).ToContainTextAsync("raised");
        var refused = await Post(
            page,
            proveOut,
            """{"kind":"reading-typed","step":"first-cut.tool.1.machine-z","typed":"-12.0208"}"""
        );
        Assert.Equal(422, refused.Status);
        Assert.Contains("raised", await refused.TextAsync(), StringComparison.Ordinal);

        // put back, but the raise is still in the register: asked to read again, without a hint
        await page.GotoAsync($"/floor/prove-outs/{proveOut}");
        await WalkUntil(tablet, "restore.offset.G54.z");
        await AssertBlind(tablet, proveOut, "-18.0625");
        await tablet.Read("-16.0625");
        await Assertions.Expect(page.Locator("article")).ToContainTextAsync("read", new() { IgnoreCase = true });
        await AssertBlind(tablet, proveOut, "-18.0625");
        await tablet.Read("-18.0625");
        await Assertions.Expect(page.Locator(".hazard")).ToHaveCountAsync(0);

        // half way through the first cut the shift ends
        await WalkUntil(tablet, "first-cut.tool.2.machine-z");
        await page.GotoAsync($"/floor/machines/{shop.MachineId}/handoff");
        await GiveHandoff(tablet);
        await tablet.NotMe();

        await tablet.SignIn("Night setter", JourneyShop.Pin);
        await page.GotoAsync($"/floor/prove-outs/{proveOut}");
        await Assertions
            .Expect(page.Locator(".hazard"))
            .ToContainTextAsync("Locked out or bypassed: door switch, key with the supervisor");
        await Assertions.Expect(page.Locator(".hazard")).ToContainTextAsync("Handoff open");
        await page.GotoAsync($"/floor/machines/{shop.MachineId}/handoff");
        await TakeHandoff(tablet, proveOut);
        await LiftLockout(page, tablet);

        await WalkUntil(tablet, "release.signed");
        await tablet.NotMe();
        await tablet.SignInWithPassword("Supervisor", JourneyShop.Password);
        await page.GotoAsync($"/floor/prove-outs/{proveOut}");
        await tablet.TypeOnKeypad("pin-Reviewed", JourneyShop.Pin);
        await tablet.Press("Sign: reviewed");
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Released" })).ToBeVisibleAsync();

        await VerifyRecord(page);
    }

    /// <summary>The record as it was taken away is as it was signed; with one digit of a reading changed it is not.</summary>
    static async Task VerifyRecord(IPage page)
    {
        var folder = Directory.CreateTempSubdirectory("handwheel-record-");
        try
        {
            var record = Path.Combine(folder.FullName, "record.json");
            var root = Path.Combine(folder.FullName, "root.pem");
            var link = page.GetByRole(AriaRole.Link, new() { Name = "Take the signed record away" });
            await (await page.RunAndWaitForDownloadAsync(() => link.ClickAsync())).SaveAsAsync(record);
            await File.WriteAllBytesAsync(
                root,
                await (await page.APIRequest.GetAsync("/api/records/root.pem")).BodyAsync()
            );

            var verified = await Ran.Command("verify", record, "--trust", root);
            Assert.True(verified.Status is 0, verified.Out + verified.Error);
            Assert.Contains("Night setter", verified.Out, StringComparison.Ordinal);

            var text = await File.ReadAllTextAsync(record);
            var at = text.IndexOf("-16.0625", StringComparison.Ordinal);
            Assert.True(at > 0, "the wrong reading is not in the record");
            await File.WriteAllTextAsync(record, text[..(at + 7)] + '6' + text[(at + 8)..]);
            var changed = await Ran.Command("verify", record, "--trust", root);
            Assert.True(changed.Status is 1, changed.Out + changed.Error);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>What is bypassed does not end with the shift: it stands until somebody who has looked signs.</summary>
    static async Task LiftLockout(IPage page, TabletPage tablet)
    {
        await Assertions.Expect(page.Locator(".hazard")).ToContainTextAsync("Locked out or bypassed: door switch");
        await page.GetByText("It is no longer locked out or bypassed").ClickAsync();
        await page.GetByLabel("What was done, and who looked").FillAsync("switch in force, looked with the supervisor");
        await tablet.TypeOnKeypad("lifted-pin", JourneyShop.Pin);
        await tablet.Press("Sign: no longer locked out or bypassed");
        await Assertions.Expect(page.Locator(".hazard")).ToHaveCountAsync(0);
    }

    static async Task GiveHandoff(TabletPage tablet)
    {
        var page = tablet.Page;
        await Assertions.Expect(page.GetByLabel("Offsets still raised")).ToHaveValueAsync("none");
        await page.GetByLabel("Locked out or bypassed").FillAsync("door switch, key with the supervisor");
        foreach (var none in await page.GetByRole(AriaRole.Button, new() { Name = "None" }).AllAsync())
        {
            var box = page.Locator("#" + await none.GetAttributeAsync("data-for"));
            if ((await box.InputValueAsync()).Length == 0)
                await none.ClickAsync();
        }
        await tablet.TypeOnKeypad("pin", JourneyShop.Pin);
        await tablet.Press("Sign and hand over");
    }

    static async Task TakeHandoff(TabletPage tablet, Guid proveOut)
    {
        var page = tablet.Page;
        while (await tablet.Step.CountAsync() > 0)
        {
            var reading = SpacerPlate.Reading(await tablet.StepId());
            await AssertBlind(tablet, proveOut, reading);
            await tablet.Read(reading);
        }
        await page.GetByLabel("What was asked and answered").FillAsync("which tool comes next: T2");
        await tablet.TypeOnKeypad("pin", JourneyShop.Pin);
        await tablet.Press("Sign and take over");
    }

    static async Task WalkUntil(TabletPage tablet, string stop)
    {
        for (var step = await tablet.StepId(); step != stop; step = await tablet.StepId())
            await tablet.DoStep();
    }

    /// <summary>Neither the document, nor its accessible text, nor what the server sends about the prove-out holds the value.</summary>
    static async Task AssertBlind(TabletPage tablet, Guid proveOut, string expected)
    {
        if (expected is "0.0000")
            return;
        var bare = expected.TrimStart('-').TrimEnd('0');
        Assert.DoesNotContain(bare, await tablet.Page.ContentAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain(bare, await tablet.Page.Locator("body").AriaSnapshotAsync(), StringComparison.Ordinal);
        foreach (var address in new[] { $"/api/prove-outs/{proveOut}", $"/floor/prove-outs/{proveOut}/kept" })
        {
            var sent = await tablet.Page.APIRequest.GetAsync(address);
            Assert.Equal(200, sent.Status);
            Assert.DoesNotContain(bare, await sent.TextAsync(), StringComparison.Ordinal);
        }
    }

    static Task<IAPIResponse> Post(IPage page, Guid proveOut, string act) =>
        page.APIRequest.PostAsync(
            $"/api/prove-outs/{proveOut}/acts",
            new()
            {
                Data = $$"""{"basedOn":0,"act":{{act}}}""",
                Headers = new Dictionary<string, string>
                {
                    ["Idempotency-Key"] = Guid.NewGuid().ToString(),
                    ["Content-Type"] = "application/json",
                },
            }
        );
}
