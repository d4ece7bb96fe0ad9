using System.Globalization;
using System.Text.RegularExpressions;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.Features.Floor.Languages;

/// <summary>
/// A prove-out from its begin to its release on one tablet, with everything on the way that has words of its own: wrong PINs and readings,
/// refusals, a difference, an interruption, notes, a handoff, paper.
/// </summary>
sealed partial class Way(JourneyShop shop, TabletVisitor tablet, bool looksAtEveryStep)
{
    string proveOut = "";

    /// <summary>The released prove-out.</summary>
    public async Task<string> Walk()
    {
        await WayIn();
        var page = await tablet.Get($"/floor/machines/{shop.MachineId}");
        page = await tablet.Post(page.QuerySelector("form[action$='/prove-outs']")!, ("purpose", "prove"));
        proveOut = page.DocumentElement.GetAttribute("data-prove-out")!;
        await EachStep(page);
        page = await Ready(page);
        page = await Raised(page);
        page = await Handoff();
        page = await Until(page, "first-piece.1");
        page = await FirstPiece(page);
        page = await Until(page, "release.signed");
        await tablet.SignInWithPassword("Supervisor");
        page = await tablet.Get($"/floor/prove-outs/{proveOut}");
        page = await tablet.Post(TabletVisitor.FormFor(page, "signed")!, ("pin", JourneyShop.Pin));
        await tablet.Get($"/floor/prove-outs/{proveOut}");
        await tablet.Get($"/floor/machines/{shop.MachineId}");
        await Paper();
        return proveOut;
    }

    async Task WayIn()
    {
        await tablet.SignIn("Day setter", "111222");
        await tablet.Get($"/floor/sign-in?person={shop.Supervisor.Person}&password=true");
        await tablet.Get("/floor/no-connection");
        await tablet.SignIn("Day setter");
        await tablet.Get("/floor");
    }

    /// <summary>Paper that is ours, and what is not.</summary>
    async Task Paper()
    {
        await tablet.Get("/floor/scan");
        await tablet.Get("/floor/jobs/1");
        foreach (
            var code in (string[])
                [
                    "nonsense",
                    "https://elsewhere.invalid/jobs/1",
                    "mailto:a@b",
                    "0123456789AB",
                    new string('x', 600),
                    "/jobs/1",
                ]
        )
            await tablet.Get($"/floor/scan?code={Uri.EscapeDataString(code)}");
    }

    /// <summary>Every step as it stands now, whether it can be done or waits.</summary>
    async Task EachStep(IHtmlDocument page)
    {
        await tablet.Get($"/floor/prove-outs/{proveOut}/kept");
        if (!looksAtEveryStep)
            return;
        var phases = page.QuerySelectorAll(".progress a").Select(a => a.GetAttribute("href")!).ToList();
        foreach (var phase in phases)
        {
            var shown = await tablet.Get($"/floor/prove-outs/{proveOut}{phase}");
            foreach (var card in shown.QuerySelectorAll(".cards a").Select(a => a.GetAttribute("href")!).ToList())
            {
                var steps = (await tablet.Get($"/floor/prove-outs/{proveOut}{card}")).QuerySelectorAll(".in-card a");
                foreach (var step in steps.Select(a => a.GetAttribute("href")!).ToList())
                    await tablet.Get($"/floor/prove-outs/{proveOut}{step}");
            }
        }
    }

    async Task<IHtmlDocument> Ready(IHtmlDocument page)
    {
        page = await Until(page, "ready.tool.1.length");
        page = await tablet.Post(TabletVisitor.FormFor(page, "reading-typed")!, ("act.typed", "5,0417"));
        page = await tablet.Get($"/floor/prove-outs/{proveOut}");
        page = await tablet.Post(TabletVisitor.FormFor(page, "reading-typed")!, ("act.typed", "5.0471"));
        page = await tablet.Post(TabletVisitor.FormFor(page, "reading-typed")!, ("act.typed", "5.0471"));
        page = await tablet.Get($"/floor/prove-outs/{proveOut}?step=ready.tool.1.length");
        page = await tablet.Answer(page);
        page = await tablet.Post(TabletVisitor.FormFor(page, "note")!, ("act.text", "Stick-out 2.01"));
        page = await tablet.Post(TabletVisitor.FormFor(page, "interrupted")!);
        return await Until(page, "air-cut.raised.G54.z");
    }

    async Task<IHtmlDocument> Raised(IHtmlDocument page)
    {
        page = await tablet.Post(TabletVisitor.FormFor(page, "reading-typed")!, ("act.typed", "-20.0625"));
        page = await tablet.Post(TabletVisitor.FormFor(page, "reading-typed")!, ("act.typed", "-20.0625"));
        page = await tablet.Answer(await tablet.Get($"/floor/prove-outs/{proveOut}?step=air-cut.raised.G54.z"));
        await tablet.Get("/floor");
        page = await Until(page, "air-cut.tool.1.machine-z");
        page = await tablet.Post(TabletVisitor.FormFor(page, "reading-typed")!, ("act.typed", "-12.0208"));
        page = await tablet.Post(TabletVisitor.FormFor(page, "reading-typed")!, ("act.typed", "-12.0208"));
        page = await tablet.Answer(await tablet.Get($"/floor/prove-outs/{proveOut}?step=air-cut.tool.1.machine-z"));
        page = await Until(page, "air-cut.tool.1.gauge");
        page = await tablet.Post(
            TabletVisitor.FormFor(page, "differs")!,
            ("act.saw", "a feeler of 0.010 does not go under")
        );
        page = await tablet.Post(TabletVisitor.FormFor(page, "difference-settled")!, ("act.done", "chip taken away"));
        page = await Until(page, "restore.reset");
        await EachStep(page);
        await tablet.Get($"/floor/machines/{shop.MachineId}");
        page = await Until(page, "restore.offset.G54.z");
        page = await tablet.Post(TabletVisitor.FormFor(page, "reading-typed")!, ("act.typed", "-16.0625"));
        return page;
    }

    async Task<IHtmlDocument> Handoff()
    {
        var page = await tablet.Get($"/floor/machines/{shop.MachineId}/handoff");
        var form = TabletVisitor.FormFor(page, "handed-over")!;
        await tablet.Post(form, ("pin", JourneyShop.Pin));
        page = await tablet.Get($"/floor/machines/{shop.MachineId}/handoff");
        form = TabletVisitor.FormFor(page, "handed-over")!;
        var open = form.QuerySelectorAll("textarea[required]").Select(t => (t.GetAttribute("name")!, "none"));
        await tablet.Post(form, [.. open, ("pin", JourneyShop.Pin)]);
        await tablet.Get($"/floor/prove-outs/{proveOut}");
        await tablet.SignIn("Night setter");
        await tablet.Get("/floor");
        page = await tablet.Get($"/floor/machines/{shop.MachineId}/handoff");
        while (TabletVisitor.FormFor(page, "reading-typed") is { } reading)
        {
            var step = TabletVisitor.StepOf(page);
            await tablet.Post(
                reading,
                ("act.typed", step.EndsWith("G54.z", StringComparison.Ordinal) ? "-16.0625" : SpacerPlate.Reading(step))
            );
            page = await tablet.Get($"/floor/machines/{shop.MachineId}/handoff");
        }
        return await tablet.Post(
            TabletVisitor.FormFor(page, "took-over")!,
            ("act.asked", "none"),
            ("pin", JourneyShop.Pin)
        );
    }

    async Task<IHtmlDocument> FirstPiece(IHtmlDocument page)
    {
        page = await tablet.Post(TabletVisitor.FormFor(page, "first-piece-measured")!, ("act.typed", "0.7600"));
        return await tablet.Get($"/floor/prove-outs/{proveOut}?step=first-piece.1");
    }

    async Task<IHtmlDocument> Until(IHtmlDocument page, string stop)
    {
        for (var step = TabletVisitor.StepOf(page); step != stop; step = TabletVisitor.StepOf(page))
        {
            Assert.True(tablet.Seen.Count < 2000, $"{stop} was not reached from {step}");
            page = step.EndsWith(".program", StringComparison.Ordinal)
                ? await Program(page)
                : await tablet.Answer(page);
        }
        return page;
    }

    /// <summary>The block that the page asks for; its line is the one number in "Where to look" that is in the program.</summary>
    Task<IHtmlDocument> Program(IHtmlDocument page)
    {
        var where = page.QuerySelector(".say dd")!.TextContent;
        var line = int.Parse(Line().Match(where).Groups["line"].Value, CultureInfo.InvariantCulture);
        return tablet.Post(
            TabletVisitor.FormFor(page, "line-typed")!,
            ("act.number", "O0900"),
            ("act.block", SpacerPlate.Line(line))
        );
    }

    [GeneratedRegex(@"(line|línea) (?<line>\d+)", RegexOptions.ExplicitCapture | RegexOptions.NonBacktracking)]
    private static partial Regex Line();
}
