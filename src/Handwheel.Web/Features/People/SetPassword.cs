using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

/// <summary>
/// A password for the desk: an administrator sets it for anybody, a person with one changes the own. Sign-ins of that
/// person end.
/// </summary>
public sealed class SetPassword(ShopWriter writer, SecretCheck check, SecretHash hash)
{
    /// <param name="current">The own present password; not asked of an administrator who sets somebody else's.</param>
    public async Task<Refusal?> Run(Actor by, Place place, Guid id, string? current, string password)
    {
        if (by.Person != id && !by.Has(Roles.Administrator))
            return new Refusal(RefusedBecause.NotAllowed, "Only an administrator sets somebody else's password.");
        if (SecretRules.WhyNotPassword(password) is { } wrong)
            return new Refusal(RefusedBecause.NotAcceptable, wrong);
        if (by.Person == id && (await check.Password(id, current ?? "", place)).Refused is { } refused)
            return refused;
        var hashed = hash.Of(password);
        return await writer.Write(async db =>
        {
            var person = await db.People.SingleOrDefaultAsync(p => p.Id == id);
            if (person is null)
                return new Refusal(RefusedBecause.NotThere, "There is no such person.");
            person.PasswordHash = hashed;
            person.FailedPasswords = 0;
            person.Stamp = Guid.NewGuid();
            await db.SaveChangesAsync();
            return null;
        });
    }
}
