using System.Globalization;
using Handwheel.Data;
using Handwheel.Web.Features.Records;
using Handwheel.Web.Features.Setups;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

/// <summary>The tools of a job's setup as a table for a spreadsheet, at <c>/jobs/NUMBER/tools.csv</c>.</summary>
static class ToolTableFile
{
    public static void MapToolTables(this WebApplication app) =>
        app.MapGet("/jobs/{number:int}/tools.csv", Table).RequireAuthorization(Policies.SignedIn);

    static async Task<IResult> Table(int number, IDbContextFactory<HandwheelDb> databases, JobReader jobs)
    {
        await using var db = await databases.CreateDbContextAsync();
        var id = await db.Jobs.Where(j => j.Number == number).Select(j => (Guid?)j.Id).SingleOrDefaultAsync();
        if (id is not { } job || await jobs.Open(job) is not { } open)
            return Results.NotFound();
        return Results.File(
            ToolTable.Write(SetupForm.From(open.SetupFile.Bytes)),
            Csv.ContentType,
            string.Create(CultureInfo.InvariantCulture, $"job-{number}-tools.csv")
        );
    }
}
