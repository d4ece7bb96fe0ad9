using System.Text;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Tests.Data;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>Going through a program at the desk: text, picture and figures stay together.</summary>
public sealed class PathPageTests(DrawingBrowser browser) : IClassFixture<DrawingBrowser>, IAsyncLifetime
{
    readonly JourneyShop shop = new();
    IBrowserContext context = null!;
    IPage page = null!;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        context = await browser.Tablet(shop.Address);
        page = await context.NewPageAsync();
        await DeskPage.SignIn(page);
    }

    ILocator View => page.Locator("#path-view");
    ILocator Here => page.Locator(".path-row.here");
    ILocator Scrub => page.GetByRole(AriaRole.Slider);

    async Task Open(string state = "drawn")
    {
        await page.GotoAsync("/jobs/1/path");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-state", state, new() { Timeout = 60_000 });
    }

    async Task IsAt(int block, int line)
    {
        await Assertions.Expect(View).ToHaveAttributeAsync("data-said", $"{block}");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-block", $"{block}");
        await Assertions.Expect(Here).ToHaveAttributeAsync("data-line", $"{line}");
        await Assertions.Expect(Here).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Scrubbing_jumping_and_pressing_a_line_keep_text_picture_and_figures_together()
    {
        await Open();
        await IsAt(block: 1, line: 3);
        await Scrub.FillAsync("6");
        await IsAt(block: 6, line: 8);
        await Assertions.Expect(page.Locator("#path-at")).ToContainTextAsync("-0.2500");
        await Assertions.Expect(page.Locator("#path-togo")).ToContainTextAsync("-1.2500");
        await Assertions.Expect(page.Locator("#path-words")).ToContainTextAsync("Block 6 of 20, line 8, T1");

        await page.GetByRole(AriaRole.Button, new() { Name = "Stop after" }).ClickAsync();
        await IsAt(block: 12, line: 14);
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop before" }).ClickAsync();
        await IsAt(block: 6, line: 8);

        await page.Locator(".path-row[data-line='16']").ClickAsync();
        await IsAt(block: 14, line: 16);
        await Assertions.Expect(Scrub).ToHaveValueAsync("14");
    }

    [Fact]
    public async Task A_line_far_down_comes_into_sight_also_when_its_block_is_answered_late()
    {
        var answered = new TaskCompletionSource();
        await page.RouteAsync(
            "**/block.json*",
            async route =>
            {
                await answered.Task;
                await route.ContinueAsync();
            }
        );
        await page.GotoAsync("/jobs/1/path?block=20");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-state", "drawn");
        await page.EvaluateAsync("new Promise(drawn => requestAnimationFrame(() => requestAnimationFrame(drawn)))");
        answered.SetResult();
        await Assertions.Expect(View).ToHaveAttributeAsync("data-said", "20");
        await Assertions.Expect(Here).ToBeInViewportAsync();
        await Assertions.Expect(page.Locator("#path-text > div").First).Not.ToHaveCSSAsync("height", "0px");
    }

    [Fact]
    public async Task A_finding_is_gone_to_from_its_list_and_stands_beside_its_line()
    {
        await Open();
        var link = page.Locator(".path-jumps ul a[data-block]").First;
        var block = await link.GetAttributeAsync("data-block");
        var id = await link.TextContentAsync();
        await link.ClickAsync();
        await Assertions.Expect(View).ToHaveAttributeAsync("data-said", block!);
        await Assertions.Expect(Here.Locator(".marks")).ToContainTextAsync(id!);
        await Assertions.Expect(page.Locator("#path-beside")).ToContainTextAsync(id!);
    }

    [Fact]
    public async Task With_nothing_but_keys_it_is_gone_through_turned_and_played()
    {
        await Open();
        await Scrub.FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.Keyboard.PressAsync("ArrowRight");
        await IsAt(block: 3, line: 5);
        await page.Keyboard.PressAsync("End");
        await IsAt(block: 20, line: 22);
        await page.Locator("#path-text").FocusAsync();
        await page.Keyboard.PressAsync("ArrowUp");
        await IsAt(block: 19, line: 21);

        var before = await page.Locator("#path-canvas").ScreenshotAsync();
        await page.Locator("#path-canvas").FocusAsync();
        await page.Keyboard.PressAsync("ArrowLeft");
        await page.Keyboard.PressAsync("ArrowLeft");
        Assert.NotEqual(before, await page.Locator("#path-canvas").ScreenshotAsync());

        await Scrub.FillAsync("1");
        await page.Locator("#path-rate").SelectOptionAsync("1");
        await page.GetByLabel("Speed").SelectOptionAsync("256");
        await page.Locator("#path-play").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-said", "18", new() { Timeout = 60_000 });
        await Assertions.Expect(page.Locator("#path-play")).ToHaveTextAsync("Play");
    }

    const string NoSpace = """
        const was = HTMLCanvasElement.prototype.getContext;
        HTMLCanvasElement.prototype.getContext = function (kind, ...more) { return kind.startsWith("webgl") ? null : was.call(this, kind, ...more); };
        """;

    /// <summary>How many pixels of the plain canvas have something on them.</summary>
    Task<int> Inked() =>
        page.EvaluateAsync<int>(
            """
            () => { const c = document.getElementById("path-sketch");
                return new Uint32Array(c.getContext("2d").getImageData(0, 0, c.width, c.height).data.buffer).filter(p => p !== 0).length; }
            """
        );

    /// <summary>Where a label stands in the window, once what was asked for is painted.</summary>
    Task<float[]> Middle(string label) =>
        page.EvaluateAsync<float[]>(
            """
            async label => { await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)));
                const box = document.querySelector("#path-labels " + label).getBoundingClientRect(); return [box.x + box.width / 2, box.y + box.height / 2]; }
            """,
            label
        );

    async Task<float[]> TipAt(int block)
    {
        await Scrub.FillAsync($"{block}");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-said", $"{block}");
        return await Middle(".tip");
    }

    /// <summary>
    /// A part between two jaws, looked at from a side. Where each is in sight follows from the boxes by hand: on the front jaw's near face is
    /// nothing else, the rear jaw's top is not covered, and straight from the front the front jaw covers all of the rear one.
    /// </summary>
    [Theory]
    [InlineData(0, -1e-4, 1, "front 0 -3 1", "rear 0 3 1")]
    [InlineData(0, -1, 0, "front 0 -4 0", "rear behind")]
    [InlineData(-1, -1, 1, "front 0 -3 1", "rear 0 3 1")]
    [InlineData(1, 0, 0, "front 5 -3 0", "rear 5 3 0")]
    public async Task What_holds_the_part_is_named_where_it_is_in_sight(
        double x,
        double y,
        double z,
        string front,
        string rear
    )
    {
        await Open();
        var said = await page.EvaluateAsync<string[]>(
            """
            async ([x, y, z]) => {
                const { placeInSight, wayToEye } = await import("/path/in-sight.js");
                const unit = (...v) => v.map(c => c / Math.hypot(...v));
                const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
                const way = unit(x, y, z), right = unit(...cross([0, 0, 1], way)), up = cross(way, right);
                const dot = (a, b) => a.x * b[0] + a.y * b[1] + a.z * b[2];
                const onPage = at => [300 + 40 * dot(at, right), 200 - 40 * dot(at, up), dot(at, way)];
                const eye = wayToEye(onPage);
                if (Math.abs(dot(eye, way) - 1) > 1e-9) return ["the eye is elsewhere", ""];
                const box = (y0, y1, z1) => ({ min: { x: -5, y: y0, z: -1 }, max: { x: 5, y: y1, z: z1 } });
                const [part, front, rear] = [box(-2, 2, 1.5), box(-4, -2, 1), box(2, 4, 1)];
                const say = (name, own, others) => {
                    const at = placeInSight(own, others, eye, 10);
                    return name + " " + (at ? [at.x, at.y, at.z].join(" ") : "behind");
                };
                return [say("front", front, [part, rear]), say("rear", rear, [part, front])];
            }
            """,
            new[] { x, y, z }
        );
        Assert.Equal([front, rear], said);
    }

    [Fact]
    public async Task From_the_front_a_jaw_behind_another_is_said_to_be_behind_it()
    {
        var setup = TestJob.File("bearing-cap-op10.setup.json"); // two vises, each with a jaw in front and one at the back
        var machine = (
            await shop.Get<AddMachine>().Run(shop.Supervisor, "Mill 1", Encoding.UTF8.GetString(setup.Bytes))
        ).Must;
        var job = await shop.Get<MakeJob>()
            .Run(shop.DaySetter, machine.Id, TestJob.File("bearing-cap-op10.nc"), setup, []);
        await page.GotoAsync($"/jobs/{job.Must.Number}/path");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-state", "drawn", new() { Timeout = 60_000 });
        async Task AreBehind(params string[] names)
        {
            await Assertions.Expect(page.Locator("#path-labels .held")).ToHaveCountAsync(4);
            await Assertions.Expect(page.Locator("#path-labels .held.behind")).ToHaveTextAsync(names);
        }
        await AreBehind();
        await page.GetByRole(AriaRole.Button, new() { Name = "Front", Exact = true }).ClickAsync();
        await AreBehind("left vise, fixed jaw", "right vise, fixed jaw");
        await page.GetByRole(AriaRole.Button, new() { Name = "Top", Exact = true }).ClickAsync();
        await AreBehind();
    }

    [Fact]
    public async Task A_first_picture_is_there_before_it_can_be_turned_takes_a_press_and_does_not_jump()
    {
        var script = new TaskCompletionSource();
        await page.RouteAsync(
            "**/three/three.module.js",
            async route =>
            {
                await script.Task;
                await route.ContinueAsync();
            }
        );
        await page.GotoAsync("/jobs/1/path", new() { WaitUntil = WaitUntilState.Commit });
        await Assertions.Expect(View).ToHaveAttributeAsync("data-state", "sketched");
        Assert.InRange(await Inked(), 2_000, int.MaxValue);
        var (down, along) = (await TipAt(6), await TipAt(7));
        var (x, y) = ((down[0] + along[0]) / 2, (down[1] + along[1]) / 2);
        await Scrub.FillAsync("1");
        await page.Mouse.ClickAsync(x, y);
        await IsAt(block: 7, line: 9);
        await Assertions.Expect(page.Locator("#path-labels .chosen")).ToHaveTextAsync("block 7, line 9");
        await Assertions.Expect(page.Locator("#path-told")).ToContainTextAsync("Pressed: block 7, line 9");
        var before = await Middle(".zero");

        script.SetResult();
        await Assertions.Expect(View).ToHaveAttributeAsync("data-state", "drawn");
        await Assertions.Expect(page.Locator("#path-sketch")).ToBeHiddenAsync();
        var after = await Middle(".zero");
        Assert.InRange(after[0] - before[0], -1, 1);
        Assert.InRange(after[1] - before[1], -1, 1);
        await Scrub.FillAsync("1");
        await IsAt(block: 1, line: 3);
        await Assertions.Expect(page.Locator("#path-labels .chosen")).ToBeHiddenAsync();
        // a fingertip may be further off than a mouse
        await page.Touchscreen.TapAsync(x, y + 11);
        await IsAt(block: 7, line: 9);
        await page.Mouse.ClickAsync(x, y + 11);
        await Assertions.Expect(page.Locator("#path-told")).ToContainTextAsync("No line of the path");

        var whole = await page.Locator("#path-canvas").ScreenshotAsync();
        await page.GetByLabel("stock as cut").CheckAsync();
        await Assertions.Expect(page.Locator("#path-ascut")).ToContainTextAsync("nothing is lower here than it is");
        await Assertions.Expect(View).ToHaveAttributeAsync("data-cut", "there");
        await Middle(".zero");
        Assert.NotEqual(whole, await page.Locator("#path-canvas").ScreenshotAsync());
    }

    [Fact]
    public async Task A_browser_that_cannot_draw_in_space_keeps_the_first_picture_and_one_without_any_has_the_flat_views()
    {
        await page.AddInitScriptAsync(NoSpace);
        await Open("plain");
        await Assertions.Expect(page.Locator("#path-told")).ToContainTextAsync("one side at a time");
        await Assertions.Expect(page.Locator("#path-told")).ToContainTextAsync("cannot be turned freely");
        await Assertions.Expect(page.GetByLabel("stock as cut")).ToBeDisabledAsync();
        var isometric = await page.Locator("#path-sketch").ScreenshotAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Front" }).ClickAsync();
        await Middle(".zero");
        Assert.NotEqual(isometric, await page.Locator("#path-sketch").ScreenshotAsync());
        await Scrub.FillAsync("6");
        await IsAt(block: 6, line: 8);

        page = await context.NewPageAsync();
        await page.AddInitScriptAsync("HTMLCanvasElement.prototype.getContext = () => null;");
        await Open("flat");
        await Assertions.Expect(page.Locator("#path-told")).ToContainTextAsync("no WebGL");
        await Assertions.Expect(page.Locator("#path-flat img")).ToHaveCountAsync(5);
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Front" })).ToBeDisabledAsync();
        await Scrub.FillAsync("6");
        await IsAt(block: 6, line: 8);
        await Assertions.Expect(page.Locator("#path-at")).ToContainTextAsync("-0.2500");
    }

    public async ValueTask DisposeAsync()
    {
        await context.DisposeAsync();
        await shop.DisposeAsync();
    }
}
