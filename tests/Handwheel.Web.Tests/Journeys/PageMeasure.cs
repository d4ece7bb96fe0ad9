using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>What a page has to hold to in the browser, whatever it shows: accessibility, and at the machine targets, type and banner too.</summary>
static class PageMeasure
{
    /// <summary>Asked for every screen and every state, which takes too long for CI.</summary>
    public static bool Whole => Environment.GetEnvironmentVariable("HANDWHEEL_SCREENS") is "all";

    /// <summary>Ticks, keys, signatures: what is pressed with a glove on. The rest has 48 px.</summary>
    const string Targets = """
        () => {
            const faults = [];
            const shown = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().width > 0;
            const name = (e) => `${e.tagName} "${(e.textContent || e.value || e.id).trim().replace(/\s+/g, " ").slice(0, 40)}"`;
            const big = ".act, .keypad button, .choice, .box input";
            const pressed = [...document.querySelectorAll(`${big}, button, a, summary, select, textarea, input:not([type=hidden])`)]
                .filter((e) => shown(e) && !e.closest(".for-ears"));
            for (const e of pressed) {
                const { width, height } = e.getBoundingClientRect();
                const least = e.matches(big) ? 104 : 48;
                const inChoice = e.closest(".choice") && e.tagName === "INPUT";
                if (!inChoice && (height < least - 0.5 || width < Math.min(least, 104) - 0.5))
                    faults.push(`${name(e)} is ${Math.round(width)} x ${Math.round(height)}, least ${least}`);
            }
            const apart = (a, b) => Math.max(
                a.left - b.right, b.left - a.right, a.top - b.bottom, b.top - a.bottom);
            // What is pressed with a glove on stands apart from its neighbours by as much as the glove is unsure of.
            const gloved = pressed.filter((e) => e.matches(big) && !e.closest(".box"));
            const boxes = gloved.map((e) => e.getBoundingClientRect());
            for (const [i, a] of boxes.entries())
                for (let j = i + 1; j < boxes.length; j++)
                    if (!gloved[i].contains(gloved[j]) && !gloved[j].contains(gloved[i]) && apart(a, boxes[j]) < 15.5)
                        faults.push(`${name(gloved[i])} and ${name(gloved[j])} are ${Math.round(apart(a, boxes[j]))} apart, least 16`);
            for (const e of document.querySelectorAll(".step h1, .step dd, .step .why, .waits li, .typed, .refusal p, .refusal li"))
                if (shown(e) && parseFloat(getComputedStyle(e).fontSize) < 29)
                    faults.push(`${name(e)} is written at ${getComputedStyle(e).fontSize}, least 29px`);
            if (document.documentElement.scrollWidth > innerWidth) faults.push(`the page is ${document.documentElement.scrollWidth} wide in ${innerWidth}`);
            const banner = document.querySelector(".banner");
            if (banner.getBoundingClientRect().top < 0) faults.push("the banner has scrolled away");
            if (banner.scrollHeight > banner.clientHeight + 1)
                faults.push(`the banner has ${banner.scrollHeight} to say in ${banner.clientHeight}`);
            return faults;
        }
        """;

    /// <summary>With the page scrolled to its end, where the banner would be gone if it could be.</summary>
    public static async Task<IEnumerable<string>> Faults(IPage page, bool axe = true)
    {
        await page.Locator("main").EvaluateAsync("e => e.scrollTo(0, e.scrollHeight)");
        var faults = await page.EvaluateAsync<string[]>(Targets);
        await page.Locator("main").EvaluateAsync("e => e.scrollTo(0, 0)");
        return axe ? [.. faults, .. await AxeAtTheMachine(page)] : faults;
    }

    /// <summary>WCAG 2.2 A and AA, as the pages at the desk keep them.</summary>
    public static Task<IEnumerable<string>> AxeAtDesk(IPage page) => Axe(page, enhanced: false);

    /// <summary>With text at 7:1 (WCAG 1.4.6) too, as the pages at the machine keep it.</summary>
    public static Task<IEnumerable<string>> AxeAtTheMachine(IPage page) => Axe(page, enhanced: true);

    static readonly string AxeItself = new BundledAxeScriptProvider().GetScript();

    /// <summary>What is in order is not told: it takes most of the time.</summary>
    const string Run = """
        async (enhanced) => {
            const told = await axe.run(document, {
                runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
                rules: { "color-contrast-enhanced": { enabled: enhanced } },
                resultTypes: ["violations"],
            });
            return told.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.html}`));
        }
        """;

    static async Task<IEnumerable<string>> Axe(IPage page, bool enhanced)
    {
        if (await page.EvaluateAsync<bool>("() => typeof axe === 'undefined'"))
            await page.EvaluateAsync(AxeItself);
        return await page.EvaluateAsync<string[]>(Run, enhanced);
    }

    /// <summary>All of them are told, not the first.</summary>
    public static void HasNo(IReadOnlyCollection<string> faults) =>
        Assert.True(faults.Count == 0, string.Join('\n', faults.Distinct()));

    /// <summary>With HANDWHEEL_SCREENSHOTS set to a folder each screen is also kept there as a picture.</summary>
    public static async Task Keep(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("HANDWHEEL_SCREENSHOTS") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, name + ".png") });
    }
}
