using System.Globalization;
using Handwheel.Data;
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
                Words = handoff?.Words ?? new Dictionary<string, string>(StringComparer.Ordinal),
                Outgoing = handoff is null ? last.By.Name : handoff.Outgoing?.Name ?? "nobody: taken over alone",
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
}
