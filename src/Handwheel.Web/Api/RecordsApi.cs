using Handwheel.Data;
using Handwheel.Web.Features.Records;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Api;

/// <summary>Signed records to take away.</summary>
static class RecordsApi
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/records/{proveOut:guid}.json", Json)
            .RequireAuthorization(Policies.SignedIn)
            .WithName("Record")
            .WithSummary("The signed record of a prove-out, handwheel-record/1.");
        api.MapGet("/records/{proveOut:guid}.csv", Entries)
            .RequireAuthorization(Policies.SignedIn)
            .WithName("RecordTable")
            .WithSummary("The entries of an ended prove-out as a table.");
        api.MapGet("/records.csv", List)
            .RequireAuthorization(Policies.SignedIn)
            .WithName("RecordsTable")
            .WithSummary("Prove-outs as a table: all, or those that the page's filter leaves, in its order.");
        api.MapGet("/records/root.pem", Root)
            .RequireAuthorization(Policies.SignedIn)
            .WithName("RecordRoot")
            .WithSummary("The shop's root certificate, for handwheel verify --trust.");
    }

    static async Task<IResult> Json(Guid proveOut, ExportRecord export)
    {
        var answer = await export.OfEnded(proveOut);
        return answer.Refused is { } refused
            ? Problems.Of(refused)
            : Results.File(answer.Must, "application/json", $"record-{proveOut:N}.json");
    }

    static async Task<IResult> Entries(Guid proveOut, ExportRecord export)
    {
        var answer = await export.TableOfEnded(proveOut);
        return answer.Refused is { } refused
            ? Problems.Of(refused)
            : Results.File(answer.Must, Csv.ContentType, $"record-{proveOut:N}.csv");
    }

    static async Task<IResult> List(
        [AsParameters] RecordsAsked asked,
        RecordsReader records,
        IDbContextFactory<HandwheelDb> databases
    )
    {
        await using var db = await databases.CreateDbContextAsync();
        var zone = TimeZoneInfo.FindSystemTimeZoneById((await db.Shop()).Zone);
        return Results.File(RecordCsv.List(asked.Of(await records.Read(), zone)), Csv.ContentType, "records.csv");
    }

    static async Task<IResult> Root(RecordKeys keys)
    {
        using var root = await keys.RootCertificate();
        return Results.File(
            System.Text.Encoding.ASCII.GetBytes(root.ExportCertificatePem()),
            "application/x-pem-file",
            "root.pem"
        );
    }
}
