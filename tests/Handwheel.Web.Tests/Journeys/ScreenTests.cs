using System.Globalization;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>
/// Every page at the machine, measured in the browser: sizes of targets and type for a gloved hand at arm's length.
/// With HANDWHEEL_SCREENSHOTS set to a folder each screen is also kept there as a picture.
/// </summary>
public sealed class ScreenTests(Browser browser) : IClassFixture<Browser>
{
    static readonly (int Width, int Height, string Choices)[] Tablets =
    [
        (1280, 800, "light-right"),
        (1280, 800, "dark-left"),
        (800, 1280, "light-right"),
        (390, 844, "light-right"),
    ];

    /// <summary>Ticks, keys, signatures: what is pressed with a glove on. The rest has 48 px.</summary>
    internal const string Measure = """
        () => {
            const faults = [];
            const shown = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().width > 0;
            const name = (e) => `${e.tagName} "${(e.textContent || e.value || e.id).trim().replace(/\s+/g, " ").slice(0, 40)}"`;
            const big = ".act, .keypad button, .choice, .box input";
            for (const e of document.querySelectorAll(`${big}, button, a, summary, select, textarea, input:not([type=hidden])`)) {
                if (!shown(e) || e.closest(".for-ears")) continue;
                const { width, height } = e.getBoundingClientRect();
                const least = e.matches(big) ? 104 : 48;
                const inChoice = e.closest(".choice") && e.tagName === "INPUT";
                if (!inChoice && (height < least - 0.5 || width < Math.min(least, 104) - 0.5))
                    faults.push(`${name(e)} is ${Math.round(width)} x ${Math.round(height)}, least ${least}`);
            }
            const keys = [...document.querySelectorAll(".keypad button")].filter(shown).map((e) => e.getBoundingClientRect());
            for (const [i, a] of keys.entries())
                for (const b of keys.slice(i + 1)) {
                    const dx = Math.max(a.left - b.right, b.left - a.right);
                    const dy = Math.max(a.top - b.bottom, b.top - a.bottom);
                    if (Math.max(dx, dy) < 15.5) faults.push(`two keys are ${Math.max(dx, dy)} apart, least 16`);
                }
            for (const e of document.querySelectorAll(".step h1, .step dd, .step .why, .waits li, .typed, .refusal p, .refusal li"))
                if (shown(e) && parseFloat(getComputedStyle(e).fontSize) < 29)
                    faults.push(`${name(e)} is written at ${getComputedStyle(e).fontSize}, least 29px`);
            if (document.documentElement.scrollWidth > innerWidth) faults.push(`the page is ${document.documentElement.scrollWidth} wide in ${innerWidth}`);
            const banner = document.querySelector(".banner").getBoundingClientRect();
            if (banner.top < 0) faults.push("the banner has scrolled away");
            return faults;
        }
        """;

    [Fact]
    public async Task Every_target_fits_a_glove_and_every_step_is_read_at_arms_length()
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        var raised = await shop.WalkTo("air-cut.tool.1.position");
        var faults = new List<string>();
        foreach (var (width, height, choices) in Tablets)
        {
            await using var context = await browser.Tablet(shop.Address, width, height);
            var choice = new Cookie
            {
                Name = "floor-choices",
                Value = choices,
                Url = shop.Address,
            };
            await context.AddCookiesAsync([shop.TabletCookie, choice]);
            var tablet = new TabletPage(await context.NewPageAsync());
            async Task Look(string name, string path, bool opened = false)
            {
                await tablet.Page.GotoAsync(path);
                if (opened)
                    await tablet.Page.EvaluateAsync(
                        "document.querySelectorAll('details').forEach(d => (d.open = true))"
                    );
                await tablet.Page.Locator("main").EvaluateAsync("e => e.scrollTo(0, e.scrollHeight)");
                faults.AddRange(
                    (await tablet.Page.EvaluateAsync<string[]>(Measure)).Select(f => $"{name} {width}: {f}")
                );
                await tablet.Page.Locator("main").EvaluateAsync("e => e.scrollTo(0, 0)");
                await Keep(tablet.Page, string.Create(CultureInfo.InvariantCulture, $"{name}-{width}-{choices}"));
                if (width == 1280)
                    faults.AddRange((await Axe(tablet.Page)).Select(f => $"{name} {choices}: {f}"));
            }
            await Look("people", "/floor/sign-in");
            await Look("pin", $"/floor/sign-in?person={shop.DaySetter.Person}");
            await tablet.SignIn("Day setter", JourneyShop.Pin);
            await Look("machines", "/floor");
            await Look("machine", $"/floor/machines/{shop.MachineId}");
            foreach (
                var step in new[]
                {
                    "air-cut.tool.1.position",
                    "air-cut.tool.1.approach",
                    "air-cut.tool.1.machine-z",
                    "air-cut.tool.1.gauge",
                    "ready.signed",
                    "restore.offset.G54.z",
                    "first-cut.tool.1.machine-z",
                    "parking.1",
                }
            )
                await Look(step, $"/floor/prove-outs/{raised}?step={step}");
            await Look("other-ways", $"/floor/prove-outs/{raised}?step=air-cut.tool.1.position", opened: true);
            await Look("handoff-give", $"/floor/machines/{shop.MachineId}/handoff");
        }
        Assert.Empty(faults.Distinct());
    }

    /// <summary>WCAG 2.2 A and AA, and text at 7:1 (1.4.6).</summary>
    internal static async Task<IEnumerable<string>> Axe(IPage page)
    {
        var rules = new Dictionary<string, RuleOptions>(StringComparer.Ordinal)
        {
            ["color-contrast-enhanced"] = new() { Enabled = true },
        };
        var only = new RunOnlyOptions
        {
            Type = "tag",
            Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
        };
        var result = await page.RunAxe(new AxeRunOptions { Rules = rules, RunOnly = only });
        return result.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html}"));
    }

    internal static async Task Keep(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("HANDWHEEL_SCREENSHOTS") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, name + ".png") });
    }
}
