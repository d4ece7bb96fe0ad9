using Handwheel.Data;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Cutting;

/// <summary>
/// Puts a new version of the cutting table in force. Checks made from now on use it; prove-outs under way keep the plan that they
/// rest on.
/// </summary>
public sealed class ChangeCuttingTable(ShopWriter writer, TimeProvider time)
{
    /// <param name="basedOn">Number of the version that the page showed; 0: the built-in table.</param>
    public async Task<Refusal?> Run(Actor by, long basedOn, CuttingTable table, string why)
    {
        if (!Policies.Allows(Policies.KeepsCuttingData, by.Roles))
            return new Refusal(
                RefusedBecause.NotAllowed,
                "Cutting data are kept by programmers, supervisors and administrators."
            );
        return await writer.Write(async db =>
        {
            var newest = await db.CuttingTables.OrderByDescending(v => v.Number).FirstOrDefaultAsync();
            if ((newest?.Number ?? 0) != basedOn)
                return new Refusal(
                    RefusedBecause.ChangedMeanwhile,
                    $"The table was changed by {newest?.PersonName ?? "somebody"} meanwhile. Look again."
                );
            if (newest?.Sha256 == table.Sha256)
                return new Refusal(RefusedBecause.NotAcceptable, "Nothing is different from the table in force.");
            var now = time.GetUtcNow();
            db.CuttingTables.Add(
                new CuttingTableVersion
                {
                    Sha256 = await db.Keep(CuttingFile.Write(table), now),
                    At = now,
                    PersonId = by.Person,
                    PersonName = by.Name,
                    Why = why.Trim(),
                }
            );
            db.News.Add(new News());
            await db.SaveChangesAsync();
            return null;
        });
    }
}
