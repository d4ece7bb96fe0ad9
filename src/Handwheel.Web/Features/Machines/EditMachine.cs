using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Machines;

/// <summary>
/// A supervisor or administrator changes what is known about a machine. Setups that were made before keep what they
/// say; the ledger of its registers is not touched.
/// </summary>
public sealed class EditMachine(ShopWriter writer)
{
    /// <param name="version">The version that the page showed.</param>
    public async Task<Refusal?> Run(
        Actor by,
        Guid id,
        long version,
        string name,
        string facts,
        string note,
        bool retired
    )
    {
        if (!Policies.Allows(Policies.Supervises, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Only a supervisor or an administrator changes a machine.");
        if (AddMachine.WhyNot(name, facts) is { } wrong)
            return new Refusal(RefusedBecause.NotAcceptable, wrong);
        return await writer.Write(async db =>
        {
            var machine = await db.Machines.SingleOrDefaultAsync(m => m.Id == id);
            if (machine is null)
                return new Refusal(RefusedBecause.NotThere, "There is no such machine.");
            if (machine.Version != version)
                return new Refusal(
                    RefusedBecause.ChangedMeanwhile,
                    $"{machine.Name} was changed by somebody else meanwhile. Look again."
                );
            var wanted = name.Trim();
            if (await db.Machines.AnyAsync(m => m.Name == wanted && m.Id != id))
                return new Refusal(RefusedBecause.NotAcceptable, $"There is a machine {wanted} already.");
            if (retired && await db.ProveOuts.AnyAsync(p => p.MachineId == id && p.End == ProveOutEnd.Open))
                return new Refusal(RefusedBecause.NotAcceptable, $"A prove-out is under way on {machine.Name}.");
            machine.Name = wanted;
            machine.Facts = facts;
            machine.Note = note.Trim();
            machine.Retired = retired;
            db.News.Add(new News(Machine: id));
            await db.SaveChangesAsync();
            return null;
        });
    }
}
