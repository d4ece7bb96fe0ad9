using Handwheel.Web.Tests.Features.Floor.Languages;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.SigningIn;

/// <summary>Without scripts: a page that one person opened is pressed while another is signed in.</summary>
public sealed class OpenedByTests : IAsyncLifetime
{
    readonly JourneyShop shop = new();

    public async ValueTask InitializeAsync() => await shop.Open();

    [Fact]
    public async Task A_step_is_not_recorded_as_the_other_persons()
    {
        var proveOut = await shop.WalkTo("ready.machine.referenced");
        using var tablet = new TabletVisitor(shop, "en");
        await tablet.SignIn("Day setter");
        var ofDaySetter = await tablet.Get($"/floor/prove-outs/{proveOut}");
        await tablet.SignIn("Night setter");

        var answer = await tablet.Post(TabletVisitor.FormFor(ofDaySetter, "ticked")!);

        Assert.Contains(
            "Night setter is signed in on this tablet now, and this page was opened by somebody else",
            answer.QuerySelector("main > .refusal li")!.TextContent,
            StringComparison.Ordinal
        );
        Assert.Equal($"/floor/prove-outs/{proveOut}", answer.QuerySelector("main > .refusal a")!.GetAttribute("href"));
        Assert.DoesNotContain((await shop.Opened(proveOut)).Entries, e => e.Act.About == "ready.machine.referenced");

        var own = await tablet.Get($"/floor/prove-outs/{proveOut}");
        await tablet.Post(TabletVisitor.FormFor(own, "ticked")!);
        var entry = (await shop.Opened(proveOut)).Entries.Single(e => e.Act.About == "ready.machine.referenced");
        Assert.Equal("Night setter", entry.By.Name);
    }

    [Fact]
    public async Task Nor_is_a_prove_out_begun()
    {
        using var tablet = new TabletVisitor(shop, "en");
        await tablet.SignIn("Day setter");
        var ofDaySetter = await tablet.Get($"/floor/machines/{shop.MachineId}");
        await tablet.SignIn("Night setter");

        var begin = ofDaySetter.QuerySelector("form[action$='/prove-outs']")!;
        var answer = await tablet.Post(begin, ("purpose", "prove"));

        Assert.Equal(
            $"/floor/machines/{shop.MachineId}",
            answer.QuerySelector("main > .refusal a")!.GetAttribute("href")
        );
        var now = await tablet.Get($"/floor/machines/{shop.MachineId}");
        Assert.Contains("No prove-out is under way", now.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
    }

    /// <summary>Every form at the machine that records something names who opened its page.</summary>
    [Fact]
    public async Task Every_form_that_records_something_says_whose_page_it_is()
    {
        var proveOut = await shop.WalkTo("restore.reset");
        using var tablet = new TabletVisitor(shop, "en");
        await tablet.SignIn("Day setter");
        await tablet.Get($"/floor/prove-outs/{proveOut}");
        await tablet.Get($"/floor/machines/{shop.MachineId}");
        await tablet.Get($"/floor/machines/{shop.MachineId}/handoff");
        foreach (var step in (await shop.Opened(proveOut)).ProveOut.Steps)
            await tablet.Get($"/floor/prove-outs/{proveOut}?step={Uri.EscapeDataString(step.Id)}");
        var forms = tablet
            .Seen.SelectMany(seen => seen.Page.QuerySelectorAll("form[method=post]"))
            .Where(f =>
                f.GetAttribute("action") is { } to
                && (
                    to.Contains("/prove-outs", StringComparison.Ordinal)
                    || to.Contains("/readings", StringComparison.Ordinal)
                )
            )
            .ToList();
        Assert.True(forms.Count > 50, $"{forms.Count} forms only");
        Assert.All(
            forms,
            f =>
                Assert.Equal(shop.DaySetter.Person.ToString(), f.QuerySelector("input[name=by]")?.GetAttribute("value"))
        );
    }

    public async ValueTask DisposeAsync() => await shop.DisposeAsync();
}
