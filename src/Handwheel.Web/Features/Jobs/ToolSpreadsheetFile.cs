using System.Globalization;
using Handwheel.Web.Features.Records;
using Handwheel.Web.Features.Setups;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.Jobs;

/// <summary>The tools of a job's setup as a table for a spreadsheet, at <c>/jobs/NUMBER/tools.csv</c>.</summary>
static class ToolSpreadsheetFile
{
    public static void MapToolSpreadsheets(this WebApplication app) =>
        app.MapGet("/jobs/{number:int}/tools.csv", Table).RequireAuthorization(Policies.SignedIn);

    static async Task<IResult> Table(int number, JobReader jobs)
    {
        if (await jobs.OpenNumber(number) is not { } open)
            return Results.NotFound();
        return Results.File(
            ToolSpreadsheet.Write(SetupForm.From(open.SetupFile.Bytes)),
            Csv.ContentType,
            string.Create(CultureInfo.InvariantCulture, $"job-{number}-tools.csv")
        );
    }
}
