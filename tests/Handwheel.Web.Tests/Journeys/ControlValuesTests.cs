using System.Globalization;
using System.Text;
using Handwheel.Web.Features.Jobs;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>A program that reads a parameter and calls a file that is not there, brought to where it can be followed, at the desk.</summary>
public sealed class ControlValuesTests(Browser browser) : IClassFixture<Browser>
{
    static readonly (int Width, int Height)[] Screens = [(1280, 800), (390, 844), (1680, 1050)];

    static readonly byte[] Program = Encoding.UTF8.GetBytes(
        "%\nO0950 (SPACER FAMILY)\nG20 G90 G17 G40 G49 G80\nT1 M6\nG54 G0 X0. Y0. S2000 M3\nG43 H1 Z1.\n"
            + "(end \u202E.1Z- \u202C)\nG1 Z-#501 F10.\nX\uFF11.\nM98 (SLOT.NC)\nG0 Z1.\nM30\n%\n"
    );

    /// <summary>A check of the program may be waited for.</summary>
    static readonly LocatorAssertionsToContainTextOptions Patient = new() { Timeout = 60_000 };

    static async Task<(JourneyShop Shop, int Job)> Open()
    {
        var shop = new JourneyShop();
        await shop.Open();
        var made = await shop.Get<MakeJob>()
            .Run(
                shop.DaySetter,
                shop.MachineId,
                new Upload("spacer-family.nc", Program),
                new Upload("spacer-plate.setup.json", SpacerPlate.SetupBytes),
                []
            );
        return (shop, made.Must.Number);
    }

    [Fact]
    public async Task The_job_asks_for_the_value_and_for_the_file_and_is_then_followed_to_its_end()
    {
        var (shop, number) = await Open();
        await using var _ = shop;
        await using var context = await browser.Tablet(shop.Address);
        var page = await context.NewPageAsync();
        await DeskPage.SignIn(page);
        await page.GotoAsync($"/jobs/{number}");

        // what only looks right is shown with its code, and nothing turns the writing around
        await Assertions.Expect(page.Locator(".nc-strange", new() { HasText = "⟨U+FF11⟩" })).ToHaveCountAsync(1);
        await Assertions.Expect(page.Locator("#L7 code")).ToHaveTextAsync("(end ⟨U+202E⟩.1Z- ⟨U+202C⟩)");
        Assert.DoesNotContain('\u202E', await page.ContentAsync());
        await Assertions
            .Expect(page.Locator("#findings"))
            .ToContainTextAsync("“U+FF11, which looks like 1” in column 2 does not make sense");

        var values = page.Locator("#values");
        await Assertions
            .Expect(values)
            .ToContainTextAsync("The program reads #501; what is it in the control? line 8 G1 Z-#501 F10.", Patient);
        await values.GetByLabel("Value of #501").FillAsync("0,25");
        await values.GetByRole(AriaRole.Button, new() { Name = "Check with this value" }).ClickAsync();
        await Assertions.Expect(values.GetByRole(AriaRole.Alert)).ToContainTextAsync("0,25", Patient);
        await values.GetByLabel("Value of #501").FillAsync("0.2500");
        await values.GetByLabel("Where the value comes from").FillAsync("read at the control");
        await values.GetByRole(AriaRole.Button, new() { Name = "Check with this value" }).ClickAsync();
        var row = values.GetByRole(AriaRole.Row, new() { Name = "#501" });
        await Assertions.Expect(row).ToContainTextAsync("0.2500", Patient);
        await Assertions.Expect(row).ToContainTextAsync("Day setter");
        await Assertions.Expect(row).ToContainTextAsync("read at the control");
        await Assertions.Expect(page.Locator("#findings")).Not.ToContainTextAsync("#501 has no value");

        await page.GetByRole(AriaRole.Link, new() { Name = "Add subprograms" }).ClickAsync();
        await page.WaitForURLAsync("**/subprograms");
        await Assertions.Expect(page.Locator("h1")).ToContainTextAsync("Subprograms of job", Patient);
        await Assertions
            .Expect(page.Locator(".hazard"))
            .ToContainTextAsync("subprogram <slot.nc> is not there", Patient);
        await Choose(page, "Slot.nc", "G1 X2. F20.\nG1 ?\nM99\n");
        await Assertions
            .Expect(page.GetByRole(AriaRole.Row, new() { Name = "Slot.nc" }))
            .ToContainTextAsync("as slot.nc at line 10");
        await Assertions.Expect(page.Locator(".hazard")).ToHaveCountAsync(0);

        // the finding of the subprogram leads to its own line in its own file
        await DeskPage.Open(page, $"/jobs/{number}");
        await page.GetByRole(AriaRole.Link, new() { Name = "line 2 of Slot.nc" }).First.ClickAsync();
        await Assertions.Expect(page.Locator("#program h2")).ToContainTextAsync("Slot.nc", Patient);
        await Assertions.Expect(page.Locator("#L2 code")).ToHaveTextAsync("G1 ?");

        await page.GotoAsync($"/jobs/{number}/subprograms");
        await page.GetByLabel("Take away Slot.nc").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Use these files" }).ClickAsync();
        await Assertions
            .Expect(page.Locator(".hazard"))
            .ToContainTextAsync("subprogram <slot.nc> is not there", Patient);
    }

    /// <summary>The connection is slow to come: a link leads where it says, whenever it is pressed.</summary>
    [Fact]
    public async Task A_link_that_is_pressed_before_the_page_is_alive_leads_where_it_says()
    {
        var (shop, number) = await Open();
        await using var _ = shop;
        await AddSlot(shop, number);
        await using var context = await browser.Tablet(shop.Address);
        var page = await context.NewPageAsync();
        await DeskPage.SignIn(page);
        var (pressed, alive) = (new TaskCompletionSource(), new TaskCompletionSource());
        await Hold(page, "**/_blazor/negotiate**", pressed);
        await Hold(page, $"**/jobs/{number}?file=**", alive);
        await page.GotoAsync($"/jobs/{number}");
        await page.GetByRole(AriaRole.Link, new() { Name = "line 2 of slot.nc" })
            .First.EvaluateAsync("link => link.click()");
        pressed.SetResult();
        await Assertions.Expect(page.Locator("fieldset.page")).ToBeEnabledAsync(new() { Timeout = 60_000 });
        alive.SetResult();
        await Assertions.Expect(page.Locator("#program h2")).ToContainTextAsync("slot.nc", Patient);
    }

    [Fact]
    public async Task The_pages_fit_every_screen_and_can_be_used_by_everybody()
    {
        var (shop, number) = await Open();
        await using var _ = shop;
        await AddSlot(shop, number);
        var job = (await shop.Get<JobReader>().Open(await JobOf(shop, number)))!.Job;
        Assert.Null(
            await shop.Get<SayParameter>()
                .Run(shop.DaySetter, new(null, "desk", "test"), job.Id, job.Version, 501, "0.25", "read at the control")
        );
        var faults = new List<string>();
        foreach (var (width, height) in Screens)
        {
            await using var context = await browser.Tablet(shop.Address, width, height);
            var page = await context.NewPageAsync();
            await DeskPage.SignIn(page);
            foreach (var path in new[] { $"/jobs/{number}", $"/jobs/{number}/subprograms" })
            {
                await page.GotoAsync(path);
                await Assertions.Expect(page.Locator("fieldset.page")).ToBeEnabledAsync();
                await Assertions.Expect(page.Locator("main table").First).ToBeVisibleAsync();
                var wide = await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - innerWidth");
                if (wide > 0)
                    faults.Add($"{path} is {wide} wider than {width}");
                faults.AddRange((await PageMeasure.AxeAtDesk(page)).Select(f => $"{path} {width}: {f}"));
                await PageMeasure.Keep(
                    page,
                    $"{path.Replace('/', '-')}-{width.ToString(CultureInfo.InvariantCulture)}"
                );
            }
        }
        PageMeasure.HasNo(faults);
    }

    static Task<IAsyncDisposable> Hold(IPage page, string url, TaskCompletionSource until) =>
        page.RouteAsync(
            url,
            async route =>
            {
                await until.Task;
                await route.ContinueAsync();
            }
        );

    /// <summary>Beside the job's program a file that it calls.</summary>
    static async Task AddSlot(JourneyShop shop, int number)
    {
        var job = (await shop.Get<JobReader>().Open(await JobOf(shop, number)))!.Job;
        Assert.Null(
            await shop.Get<ChangeSubprograms>()
                .Run(
                    shop.DaySetter,
                    new(null, "desk", "test"),
                    job.Id,
                    job.Version,
                    [new Upload("slot.nc", "G1 X2. F20.\nX#502\nM99\n"u8.ToArray())],
                    []
                )
        );
    }

    static async Task<Guid> JobOf(JourneyShop shop, int number)
    {
        await using var db =
            await shop.Get<Microsoft.EntityFrameworkCore.IDbContextFactory<Handwheel.Data.HandwheelDb>>()
                .CreateDbContextAsync();
        return db.Jobs.Single(j => j.Number == number).Id;
    }

    static async Task Choose(IPage page, string name, string text)
    {
        await DeskPage.Choose(
            page.GetByLabel("Add files"),
            new()
            {
                Name = name,
                MimeType = "text/plain",
                Buffer = Encoding.ASCII.GetBytes(text),
            }
        );
        await Assertions.Expect(page.Locator(".file-box")).ToContainTextAsync(name);
        await page.GetByRole(AriaRole.Button, new() { Name = "Use these files" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Status).First).ToContainTextAsync("checked again", Patient);
    }
}
