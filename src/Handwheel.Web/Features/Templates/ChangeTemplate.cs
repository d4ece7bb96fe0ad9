using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Templates;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Templates;

/// <summary>
/// Puts a new version of what the shop says about its prove-outs in force, for every machine or for one. Prove-outs begun from now on go by
/// it; one under way keeps the plan that it rests on.
/// </summary>
public sealed class ChangeTemplate(ShopWriter writer, TimeProvider time)
{
    /// <param name="machine">Null: for every machine.</param>
    /// <param name="basedOn">Number of the version that the page showed; 0: there was none.</param>
    public async Task<Refusal?> Run(Actor by, Guid? machine, long basedOn, ProvingTemplate template, string why)
    {
        if (!Policies.Allows(Policies.KeepsTemplates, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Prove-out rules are kept by supervisors.");
        if (string.IsNullOrWhiteSpace(why))
            return new Refusal(
                RefusedBecause.NotAcceptable,
                "Write why it changes: whoever reads a record later asks for it."
            );
        return await writer.Write(async db =>
        {
            if (machine is not null && !await db.Machines.AnyAsync(m => m.Id == machine))
                return new Refusal(RefusedBecause.NotThere, "There is no such machine.");
            var newest = await TemplateReader.Newest(db, machine);
            if ((newest?.Number ?? 0) != basedOn)
                return new Refusal(
                    RefusedBecause.ChangedMeanwhile,
                    $"The rules were changed by {newest?.PersonName ?? "somebody"} meanwhile. Look again."
                );
            if (newest?.Sha256 == ProvingTemplateFile.Digest(template))
                return new Refusal(RefusedBecause.NotAcceptable, "Nothing is different from the version in force.");
            var now = time.GetUtcNow();
            db.ProvingTemplates.Add(
                new ProvingTemplateVersion
                {
                    MachineId = machine,
                    Sha256 = await db.Keep(ProvingTemplateFile.Write(template), now),
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
