using Handwheel.Data;
using Handwheel.Jobs.CuttingTables;

namespace Handwheel.Web.Features.Cutting;

/// <summary>Keeps the table that this version of the app comes with, so that a check that used it stays explainable after an update.</summary>
public sealed class KeepBuiltInTable(ShopWriter writer, TimeProvider time)
{
    public Task Run() =>
        writer.Write(async db =>
        {
            await db.Keep(CuttingFile.Write(BuiltInCutting.Table), time.GetUtcNow());
            return await db.SaveChangesAsync();
        });
}
