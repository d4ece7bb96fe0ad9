using Handwheel.Jobs.Proving;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Tests.Features.Floor.Languages;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.Features.Floor;

/// <summary>The pages of whoever takes a raised machine over and reads something else.</summary>
public sealed class TakeOverTests : IAsyncLifetime
{
    readonly JourneyShop shop = new();
    Guid proveOut;

    public async ValueTask InitializeAsync()
    {
        await shop.Open();
        proveOut = await shop.WalkTo("air-cut.tool.1.position");
        await shop.Do(proveOut, new Note("coolant hose is loose at the head"));
    }

    static string Text(AngleSharp.Dom.IParentNode page, string at) =>
        string.Join(' ', page.QuerySelectorAll(at).Select(e => e.TextContent.Trim()));

    [Fact]
    public async Task A_register_read_back_wrong_twice_is_explained_before_the_next_is_asked_for()
    {
        var words = SmallShop.Words();
        words["raised"] = "G54, as last read";
        await shop.Do(proveOut, new HandedOver(words));
        const string step = "read-back.G54.z";
        // the baseline: nothing is raised any more
        await shop.Do(proveOut, new ReadingTyped(step, "-18.0625"), shop.NightSetter);
        await shop.Do(proveOut, new ReadingTyped(step, "-18.0625"), shop.NightSetter);
        using var tablet = new TabletVisitor(shop, "en");
        await tablet.SignIn("Night setter");

        var page = await tablet.Get($"/floor/machines/{shop.MachineId}/handoff?after={step}");
        Assert.Equal(step, TabletVisitor.StepOf(page));
        Assert.Contains("has not been raised", Text(page, "article"), StringComparison.Ordinal);

        var machine = await tablet.Get($"/floor/machines/{shop.MachineId}");
        var row = machine.QuerySelectorAll("tr").Single(r => r.Children[0].TextContent.Trim() == "G54 Z");
        Assert.Contains("not raised, and the air cut needs the raise", row.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task While_it_is_raised_as_asked_the_machine_page_says_raised_and_not_off()
    {
        using var tablet = new TabletVisitor(shop, "en");
        await tablet.SignIn("Night setter");
        var machine = await tablet.Get($"/floor/machines/{shop.MachineId}");
        var row = machine.QuerySelectorAll("tr").Single(r => r.Children[0].TextContent.Trim() == "G54 Z");
        Assert.Contains("raised by 2.0000 in", row.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_note_is_read_at_the_machine_and_goes_into_the_handoff()
    {
        using var tablet = new TabletVisitor(shop, "en");
        await tablet.SignIn("Night setter");
        var page = await tablet.Get($"/floor/prove-outs/{proveOut}");
        Assert.Contains("a note: coolant hose is loose at the head", Text(page, "main"), StringComparison.Ordinal);
        await tablet.SignIn("Day setter");
        var handoff = await tablet.Get($"/floor/machines/{shop.MachineId}/handoff");
        Assert.Contains(
            "coolant hose is loose at the head (noted by Day setter)",
            handoff.DocumentElement.OuterHtml,
            StringComparison.Ordinal
        );
    }

    /// <summary>Locks and bypasses are the machine's: the page of a machine without a prove-out warns and has the form.</summary>
    [Fact]
    public async Task What_a_prove_out_left_locked_out_is_signed_for_at_the_machine()
    {
        var words = SmallShop.Words();
        words["raised"] = "G54, as last read";
        words["locked-out"] =
            "door switch bypassed by maintenance, key in the office, until the spare is here: keep out";
        await shop.Do(proveOut, new HandedOver(words));
        await shop.Do(proveOut, new Abandoned("wrong material"));
        using var tablet = new TabletVisitor(shop, "en");
        await tablet.SignIn("Night setter");
        var machine = await tablet.Get($"/floor/machines/{shop.MachineId}");
        Assert.Contains(
            "Locked out or bypassed: door switch bypassed",
            Text(machine, "header"),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "until the spare is here: keep out",
            Text(machine, "main > section > .why"),
            StringComparison.Ordinal
        );
        Assert.Contains("door switch bypassed", Text(await tablet.Get("/floor"), "main"), StringComparison.Ordinal);
        Assert.Contains(
            "\"lockedOut\":\"door switch bypassed",
            await tablet.Text($"/api/prove-outs/{proveOut}"),
            StringComparison.Ordinal
        );

        var form = TabletVisitor.FormFor(machine, "lockout-lifted")!;
        var signed = await tablet.Post(form, ("act.what", "key back, looked"), ("pin", JourneyShop.Pin));
        Assert.Contains("No prove-out is under way", Text(signed, "main"), StringComparison.Ordinal);
        Assert.DoesNotContain("door switch", signed.DocumentElement.OuterHtml, StringComparison.Ordinal);
        Assert.DoesNotContain("door switch", Text(await tablet.Get("/floor"), "main"), StringComparison.Ordinal);
    }

    public async ValueTask DisposeAsync() => await shop.DisposeAsync();
}
