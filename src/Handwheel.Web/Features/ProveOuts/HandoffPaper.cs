using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Features.Paper;
using Handwheel.Web.Serving.Network;
using Handwheel.Web.Sheets;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>The handoff page of a prove-out as it stands, at <c>/prove-outs/ID/handoff.pdf</c>.</summary>
static class HandoffPaper
{
    public static void MapHandoffPaper(this WebApplication app) =>
        app.MapGet("/prove-outs/{proveOut:guid}/handoff.pdf", Print).RequireAuthorization(Policies.SignedIn);

    static async Task<IResult> Print(
        Guid proveOut,
        HttpContext http,
        ShopAddresses addresses,
        ProveOutReader proveOuts,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time
    )
    {
        await using var db = await databases.CreateDbContextAsync();
        if (await proveOuts.Open(db, proveOut) is not { LastEntry: { } last } open)
            return Results.NotFound();
        var shop = await db.Shop();
        var handoff = open.ProveOut.Handoff;
        var clock = new ShopClock(TimeZoneInfo.FindSystemTimeZoneById(shop.Zone), time);
        var page = HandoffPage.Print(
            new()
            {
                ProveOut = open.ProveOut,
                JobName = SetupSheet.JobName(
                    new()
                    {
                        Part = open.Job.Part,
                        Operation = open.Job.Operation,
                        Revision = open.Job.Revision,
                    },
                    "job " + open.Job.Number.ToString(CultureInfo.InvariantCulture)
                ),
                Head = open.Log.LastHash,
                Words = handoff?.Words ?? HandoffFacts.Of(open.ProveOut, open.Entries, clock.At),
                Outgoing = handoff is null ? null : handoff.Outgoing?.Name ?? "nobody: taken over alone",
                Stands = Stands(open.ProveOut, last, clock),
                Printed = TimeZoneInfo.ConvertTime(time.GetUtcNow(), TimeZoneInfo.FindSystemTimeZoneById(shop.Zone)),
                Scan = new(
                    addresses.ForPaper(http.Request)
                        + PaperCode.PathFor(proveOut, open.Log.LastNumber, open.Log.LastHash)
                ),
                Paper = shop.Paper == "letter" ? PaperSize.Letter : PaperSize.A4,
            }
        );
        return Results.File(page, "application/pdf");
    }

    static string Stands(ProveOut proveOut, Entry last, ShopClock clock) =>
        proveOut switch
        {
            { Handoff: { Outgoing: { } outgoing } handoff } =>
                $"Handed over by {outgoing.Name}, {clock.At(handoff.At)}; not taken over yet.",
            { Handoff: { } handoff } => $"Being taken over alone since {clock.At(handoff.At)}: nobody handed it over.",
            { Standing: Standing.Released } =>
                $"The prove-out has ended: released by {last.By.Name}, {clock.At(last.At)}.",
            { Standing: Standing.Abandoned } =>
                $"The prove-out has ended: abandoned by {last.By.Name}, {clock.At(last.At)}.",
            _ => $"Not handed over: no handoff is open. Last entry by {last.By.Name}, {clock.At(last.At)}.",
        };
}
