using System.Globalization;
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
                var found = await PageMeasure.Faults(tablet.Page, axe: width == 1280);
                faults.AddRange(found.Select(f => $"{name} {width} {choices}: {f}"));
                await PageMeasure.Keep(
                    tablet.Page,
                    string.Create(CultureInfo.InvariantCulture, $"{name}-{width}-{choices}")
                );
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
        PageMeasure.HasNo(faults);
    }
}
