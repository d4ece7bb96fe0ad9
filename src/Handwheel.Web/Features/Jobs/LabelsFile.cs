using Handwheel.Data;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Paper;
using Handwheel.Web.Serving.Network;
using Handwheel.Web.Sheets;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

/// <summary>Labels for the tool holders of a job as PDF, at <c>/jobs/NUMBER/labels.pdf</c>.</summary>
static class LabelsFile
{
    public static void MapLabels(this WebApplication app) =>
        app.MapGet("/jobs/{number:int}/labels.pdf", Print).RequireAuthorization(Policies.SignedIn);

    static async Task<IResult> Print(
        int number,
        HttpContext http,
        ShopAddresses addresses,
        IDbContextFactory<HandwheelDb> databases,
        JobReader jobs,
        TimeProvider time
    )
    {
        if (await jobs.OpenNumber(number) is not { } open)
            return Results.NotFound();
        await using var db = await databases.CreateDbContextAsync();
        var shop = await db.Shop();
        var input = new LabelsInput
        {
            Setup = open.Setup,
            SetupSha256 = open.SetupSha256,
            Printed = TimeZoneInfo.ConvertTime(time.GetUtcNow(), TimeZoneInfo.FindSystemTimeZoneById(shop.Zone)),
            Scan = new(
                addresses.ForPaper(http.Request)
                    + PaperCode.PathFor(open.Job.Number, open.ProgramSha256, open.SetupSha256)
            ),
            Paper = shop.Paper == "letter" ? PaperSize.Letter : PaperSize.A4,
        };
        try
        {
            return Results.File(ToolLabels.Print(input), "application/pdf");
        }
        catch (InputFault fault)
        {
            return Results.Problem(fault.Message, statusCode: StatusCodes.Status422UnprocessableEntity);
        }
    }
}
