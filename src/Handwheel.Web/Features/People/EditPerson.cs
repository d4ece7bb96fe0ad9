using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

/// <summary>An administrator changes somebody's roles, or disables or enables them. Their sign-ins end at once.</summary>
public sealed class EditPerson(ShopWriter writer)
{
    /// <param name="version">The version that the page showed.</param>
    public async Task<Refusal?> Run(Actor by, Guid id, long version, Roles roles, bool disabled)
    {
        if (!Policies.Allows(Policies.Administers, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Only an administrator changes people.");
        if (roles == Roles.None)
            return new Refusal(RefusedBecause.NotAcceptable, "Choose at least one role, or disable the person.");
        return await writer.Write(db => Change(db, id, version, roles, disabled));
    }

    static async Task<Refusal?> Change(HandwheelDb db, Guid id, long version, Roles roles, bool disabled)
    {
        var person = await db.People.SingleOrDefaultAsync(p => p.Id == id);
        if (person is null)
            return new Refusal(RefusedBecause.NotThere, "There is no such person.");
        if (person.Version != version)
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                $"{person.Name} was changed by somebody else meanwhile. Look again."
            );
        var administers = !disabled && roles.HasFlag(Roles.Administrator);
        var others = await db.People.AnyAsync(p =>
            p.Id != id && !p.Disabled && (p.Roles & Roles.Administrator) != Roles.None
        );
        if (!administers && !others)
            return new Refusal(RefusedBecause.NotAcceptable, "The last administrator stays one. Make another first.");
        if (SignIn.NeedsPassword(roles) && person.PasswordHash is null)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                $"{person.Name} needs a password before taking on that role."
            );
        person.Roles = roles;
        person.Disabled = disabled;
        person.Stamp = Guid.NewGuid();
        db.News.Add(new News());
        await db.SaveChangesAsync();
        return null;
    }
}
