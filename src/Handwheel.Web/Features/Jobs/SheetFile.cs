using Handwheel.Data;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Paper;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Serving.Network;
using Handwheel.Web.Sheets;
using Handwheel.Web.Sheets.Pictures;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

/// <summary>The setup sheet of a job as PDF, at <c>/jobs/NUMBER/sheet.pdf</c>.</summary>
static class SheetFile
{
    public static void MapSheets(this WebApplication app) =>
        app.MapGet("/jobs/{number:int}/sheet.pdf", Print).RequireAuthorization(Policies.SignedIn);

    static async Task<IResult> Print(
        int number,
        HttpContext http,
        ShopAddresses addresses,
        IDbContextFactory<HandwheelDb> databases,
        JobReader jobs,
        ProveOutReader proveOuts,
        TimeProvider time
    )
    {
        if (await jobs.OpenNumber(number) is not { } open)
            return Results.NotFound();
        await using var db = await databases.CreateDbContextAsync();
        var shop = await db.Shop();
        try
        {
            var proven = (await ProvenProgram.Of(db, proveOuts, open))?.Words(
                TimeZoneInfo.FindSystemTimeZoneById(shop.Zone)
            );
            var sheet = SetupSheet.Print(
                Input(open, shop, time.GetUtcNow(), addresses.ForPaper(http.Request)) with
                {
                    Proven = proven,
                }
            );
            return Results.File(sheet, "application/pdf");
        }
        catch (InputFault fault)
        {
            return Results.Problem(fault.Message, statusCode: StatusCodes.Status422UnprocessableEntity);
        }
    }

    /// <param name="here">What a link on paper begins with.</param>
    static SheetInput Input(OpenedJob open, ShopSettings shop, DateTimeOffset now, string here) =>
        new()
        {
            Setup = open.Setup,
            SetupSha256 = open.SetupSha256,
            Check = open.Check,
            Path = TipPath.Of(open.Program.Bytes, open.Setup, open.RunOptions()),
            Said = [.. open.Said.Select(v => v.InWords)],
            Printed = TimeZoneInfo.ConvertTime(now, TimeZoneInfo.FindSystemTimeZoneById(shop.Zone)),
            Scan = new(here + PaperCode.PathFor(open.Job.Number, open.ProgramSha256, open.SetupSha256)),
            Paper = shop.Paper == "letter" ? PaperSize.Letter : PaperSize.A4,
        };
}
