using Handwheel.Jobs.CuttingTables;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.Cutting;

/// <summary>A version of the cutting table as a file, at <c>/cutting-data/DIGEST/table.json</c>: for <c>check --cutting-data</c>, or to change it elsewhere.</summary>
static class CuttingTableFile
{
    public static void MapCuttingTables(this WebApplication app) =>
        app.MapGet(
                "/cutting-data/{sha256}/table.json",
                async (string sha256, CuttingTableReader tables) =>
                    await tables.Find(sha256) is { } table
                        ? Results.File(CuttingFile.Write(table), "application/json", "cutting-data.json")
                        : Results.NotFound()
            )
            .RequireAuthorization(Policies.SignedIn);
}
