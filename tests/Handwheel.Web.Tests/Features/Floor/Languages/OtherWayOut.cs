using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.People;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.Features.Floor.Languages;

/// <summary>
/// A prove-out that is left raised, taken over alone by a person whose PIN somebody else gave out, and abandoned: what <see cref="Way"/> does not see.
/// </summary>
sealed class OtherWayOut(JourneyShop shop, TabletVisitor tablet)
{
    const string GivenPin = "204865";
    const string OwnPin = "918273";

    public async Task Walk()
    {
        await tablet.Get("/trust-this-shop");
        var proveOut = await shop.WalkTo("restore.reset");
        // So long nobody writes that whoever comes next is asked to take over.
        shop.Ahead += TakeOverLead.GapWhileRaised;
        await OwnPinFirst();
        await TakenOverAlone($"/floor/prove-outs/{proveOut}");
        await GivenUp(proveOut);
        await OnAnotherDay(proveOut);
    }

    async Task OwnPinFirst()
    {
        _ = (
            await shop.Get<AddPerson>()
                .Run(
                    shop.Supervisor with
                    {
                        Roles = Roles.Administrator,
                    },
                    "New hand",
                    Roles.Setter | Roles.Operator,
                    GivenPin,
                    null
                )
        ).Must;
        var page = await tablet.SignIn("New hand", GivenPin);
        page = await tablet.Post(PinForm(page), ("pin", GivenPin), ("new", "111111"), ("again", "111112"));
        page = await tablet.Post(PinForm(page), ("pin", GivenPin), ("new", OwnPin), ("again", OwnPin));
        Assert.Null(page.QuerySelector("form[action='/floor/pin']"));
    }

    static IElement PinForm(IHtmlDocument page) => page.QuerySelector("form[action='/floor/pin']")!;

    async Task TakenOverAlone(string proveOut)
    {
        var page = await tablet.Get(proveOut);
        Assert.Empty(TabletVisitor.StepOf(page));
        var alone = TabletVisitor.FormFor(page, "taking-over-alone")!;
        await tablet.Post(alone, ("act.why", ""), ("pin", OwnPin));
        page = await tablet.Post(alone, ("act.why", "gone home"), ("pin", OwnPin));
        page = await tablet.Get(proveOut);
        page = await tablet.Get($"/floor/machines/{shop.MachineId}/handoff");
        while (TabletVisitor.FormFor(page, "reading-typed") is { } reading)
        {
            var step = TabletVisitor.StepOf(page);
            var raised = step.EndsWith("G54.z", StringComparison.Ordinal);
            await tablet.Post(reading, ("act.typed", raised ? "-16.0625" : SpacerPlate.Reading(step)));
            page = await tablet.Get($"/floor/machines/{shop.MachineId}/handoff");
        }
        await tablet.Post(TabletVisitor.FormFor(page, "took-over")!, ("act.asked", "none"), ("pin", OwnPin));
        page = await tablet.Get(proveOut);
        Assert.NotEmpty(TabletVisitor.StepOf(page));
        page = await tablet.Post(TabletVisitor.FormFor(page, "note")!, ("act", "{\"kind\":\"note\",\"text\":7}"));
        Assert.Contains("cannot be read", page.Body!.TextContent, StringComparison.Ordinal);
    }

    async Task GivenUp(Guid proveOut)
    {
        var page = await tablet.Get($"/floor/prove-outs/{proveOut}");
        await tablet.Post(TabletVisitor.FormFor(page, "abandoned")!, ("act.reason", ""), ("pin", OwnPin));
        await tablet.Post(
            TabletVisitor.FormFor(page, "abandoned")!,
            ("act.reason", "the casting is cracked"),
            ("pin", OwnPin)
        );
        Assert.Equal(Standing.Abandoned, (await shop.Opened(proveOut)).ProveOut.Standing);
        await tablet.Get($"/floor/prove-outs/{proveOut}");
        await tablet.Get($"/floor/machines/{shop.MachineId}");
        await tablet.Get("/floor");
    }

    /// <summary>What happened on another day stands there with its date.</summary>
    async Task OnAnotherDay(Guid proveOut)
    {
        shop.Ahead += TimeSpan.FromDays(2);
        await tablet.SignIn("Day setter");
        var page = await tablet.Get($"/floor/machines/{shop.MachineId}");
        Assert.Contains("20", page.QuerySelector(".hazard")!.TextContent, StringComparison.Ordinal);
        await tablet.Get($"/floor/prove-outs/{proveOut}");
    }
}
