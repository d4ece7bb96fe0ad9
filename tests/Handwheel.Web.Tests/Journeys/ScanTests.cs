using System.Net;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Paper;
using Handwheel.Web.Sheets;
using Handwheel.Web.SigningIn;
using Handwheel.Web.Tests.Sheets;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>
/// From paper to its job at the machine: by the camera in the page, by the printed link, by the digits typed. Whatever is scanned,
/// nothing is written down.
/// </summary>
public sealed class ScanTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    readonly JourneyShop shop = new();
    IBrowserContext context = null!;
    TabletPage tablet = null!;

    IPage Page => tablet.Page;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        context = await browser.Tablet(shop.Address);
        await context.AddCookiesAsync([shop.TabletCookie]);
        tablet = new TabletPage(await context.NewPageAsync());
        await tablet.SignIn("Day setter", JourneyShop.Pin);
    }

    Task<OpenedJob?> Job() => shop.Get<JobReader>().Open(shop.JobId);

    [Fact]
    public async Task A_printed_sheet_is_read_by_the_library_where_the_browser_has_no_reader_of_its_own()
    {
        var job = (await Job())!;
        var link = shop.Address + PaperCode.PathFor(job.Job.Number, job.ProgramSha256, job.SetupSha256);
        await using var camera = await ShowingCamera.Start(browser, shop.Address, link);
        await camera.Context.AddCookiesAsync([shop.TabletCookie]);
        var scanning = new TabletPage(await camera.Context.NewPageAsync());
        await scanning.SignIn("Day setter", JourneyShop.Pin);
        await scanning.Page.GotoAsync("/floor");
        await scanning.Page.GetByRole(AriaRole.Link, new() { Name = "Scan the code on a paper" }).ClickAsync();
        await scanning.Page.GetByRole(AriaRole.Button, new() { Name = "Start the camera" }).ClickAsync();

        await scanning.Page.WaitForURLAsync("**/floor/jobs/*");
        await Assertions.Expect(scanning.Page.Locator("h1")).ToContainTextAsync("op 10");
        await Assertions.Expect(scanning.Page.Locator(".paper-current")).ToContainTextAsync("in use now");
    }

    [Fact]
    public async Task The_printed_link_opens_the_job_to_be_read_and_nothing_that_writes()
    {
        var job = (await Job())!;
        await Page.GotoAsync(PaperCode.PathFor(job.Job.Number, job.ProgramSha256, job.SetupSha256));
        await Assertions.Expect(Page.Locator(".paper-current")).ToBeVisibleAsync();
        var posts = await Page.Locator("main form[method=post]")
            .EvaluateAllAsync<string[]>("forms => forms.map(f => f.getAttribute('action'))");
        // The settings of the tablet itself (theme, hand, language), and nothing else.
        Assert.Equal(["/floor/tablet", "/floor/tablet", "/floor/tablet"], posts);
    }

    /// <summary>Every kind of page that is printed at the desk: any camera app opens its code, and the page that scans as well.</summary>
    [Fact]
    public async Task The_code_of_each_printed_page_is_a_plain_link_to_this_server_that_leads_to_its_job()
    {
        var proveOut = await shop.WalkTo("ready.program");
        var number = (await Job())!.Job.Number;
        await LeadsToTheJob($"/jobs/{number}/sheet.pdf");
        await LeadsToTheJob($"/jobs/{number}/labels.pdf");
        await LeadsToTheJob($"/prove-outs/{proveOut}/handoff.pdf");
        await shop.Do(proveOut, new Abandoned("the casting is cracked"));
        await LeadsToTheJob($"/records/{proveOut}.pdf");
    }

    async Task LeadsToTheJob(string paper)
    {
        var pdf = await Page.APIRequest.GetAsync(paper);
        Assert.True(pdf.Ok, $"{paper}: {pdf.Status}");
        var code = PrintedCode.Of(await pdf.BodyAsync());
        Assert.StartsWith(shop.Address + "/paper/", code, StringComparison.Ordinal);
        foreach (var way in new[] { code, "/floor/scan?code=" + Uri.EscapeDataString(code) })
        {
            await Page.GotoAsync(way);
            await Assertions.Expect(Page.Locator(".paper-current")).ToBeVisibleAsync();
        }
    }

    [Fact]
    public async Task Old_paper_says_what_was_replaced()
    {
        var before = (await Job())!;
        var link = PaperCode.PathFor(before.Job.Number, before.ProgramSha256, before.SetupSha256);
        var newer = new Upload("spacer-plate.nc", [.. SpacerPlate.ProgramBytes, .. "(one more line)\n"u8]);
        var desk = new Place(null, "desk", "test");
        Assert.Null(await shop.Get<ReceiveProgram>().Run(shop.DaySetter, desk, shop.JobId, before.Job.Version, newer));
        await Page.GotoAsync(link);
        await Assertions.Expect(Page.Locator(".signal.warning").First).ToContainTextAsync("out of date: the program");
    }

    [Fact]
    public async Task Digits_typed_from_the_foot_of_the_page_open_the_job()
    {
        var digits = SetupSheet.Grouped((await Job())!.ProgramSha256);
        await Page.GotoAsync("/floor/scan");
        await Page.GetByLabel("Or type the check code").FillAsync(digits);
        await Page.GetByRole(AriaRole.Button, new() { Name = "Open its job" }).ClickAsync();
        await Assertions.Expect(Page.Locator(".paper-current")).ToBeVisibleAsync();
    }

    public static TheoryData<string> NoPaperOfOurs =>
        [
            "https://example.com/paper/1/3fa0c1d2e4b5-0011aabbccdd",
            "javascript:fetch('/floor/not-me',{method:'POST'})",
            "HANDWHEEL:SHEET P:3FA0C1D2E4B5 S:0011AABBCCDD",
            "3fa0 c1d2 e4b5",
            new string('7', 4096),
        ];

    [Theory]
    [MemberData(nameof(NoPaperOfOurs))]
    public async Task A_wrong_code_is_refused_in_words_and_changes_nothing(string code)
    {
        var before = await Everything();
        var answer = await Page.GotoAsync("/floor/scan?code=" + Uri.EscapeDataString(code));

        Assert.Equal((int)HttpStatusCode.UnprocessableEntity, answer!.Status);
        await Assertions.Expect(Page.Locator("main section .refusal h2")).ToHaveTextAsync("Not a paper of this shop");
        Assert.StartsWith(shop.Address + "/floor/scan", Page.Url, StringComparison.Ordinal);
        Assert.Equal(before, await Everything());
    }

    [Fact]
    public async Task A_link_altered_by_hand_is_refused()
    {
        var job = (await Job())!;
        var link = PaperCode.PathFor(job.Job.Number, job.ProgramSha256, job.SetupSha256);
        var altered = link[..^1] + (link[^1] == '0' ? '1' : '0');
        await Page.GotoAsync(altered);
        await Assertions.Expect(Page.Locator("main section .refusal")).ToContainTextAsync("The code was altered");
    }

    /// <summary>How many rows each table has: what a scan must leave as it was.</summary>
    async Task<string> Everything()
    {
        await using var db = await shop.Get<IDbContextFactory<HandwheelDb>>().CreateDbContextAsync();
        int[] rows =
        [
            await db.Jobs.CountAsync(),
            await db.ProveOuts.CountAsync(),
            await db.ProveOutEntries.CountAsync(),
            await db.MachineReadings.CountAsync(),
            await db.Files.CountAsync(),
            await db.People.CountAsync(),
            await db.Tablets.CountAsync(),
            await db.IdempotencyKeys.CountAsync(),
        ];
        return string.Join(' ', rows);
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null)
            await context.DisposeAsync();
        await shop.DisposeAsync();
    }
}
