using Handwheel.Data;
using Handwheel.Web.Serving.Network;
using Handwheel.Web.Sheets;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Records;

/// <summary>The record of a prove-out as a certified PDF with its JSON inside, at <c>/records/ID.pdf</c>.</summary>
static class RecordPaper
{
    public static void MapRecordPaper(this WebApplication app) =>
        app.MapGet("/records/{proveOut:guid}.pdf", Print).RequireAuthorization(Policies.SignedIn);

    static async Task<IResult> Print(
        Guid proveOut,
        HttpContext http,
        ShopAddresses addresses,
        ExportRecord export,
        RecordKeys keys,
        IDbContextFactory<HandwheelDb> databases
    )
    {
        var answer = await export.OfEnded(proveOut);
        if (answer.Refused is { } refused)
            return refused.Because is RefusedBecause.NotThere
                ? Results.NotFound()
                : Results.Text(refused.ToString(), statusCode: StatusCodes.Status409Conflict);
        await using var db = await databases.CreateDbContextAsync();
        var paper = (await db.Shop()).Paper == "letter" ? PaperSize.Letter : PaperSize.A4;
        var record = RecordPdf.Make(answer.Must, await keys.Signer(), paper, addresses.ForPaper(http.Request));
        return Results.File(record, "application/pdf", $"record-{proveOut:N}.pdf");
    }
}
