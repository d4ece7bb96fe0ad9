using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

/// <summary>
/// A supervisor gives somebody a new PIN, which ends a lock and every sign-in, and has to be changed at the next one.
/// </summary>
public sealed class ResetPin(ShopWriter writer, SecretHash hash)
{
    public async Task<Refusal?> Run(Actor by, Guid id, string newPin)
    {
        if (!Policies.Allows(Policies.Supervises, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Only a supervisor or an administrator resets a PIN.");
        if (SecretRules.WhyNotPin(newPin) is { } wrong)
            return new Refusal(RefusedBecause.NotAcceptable, wrong);
        var hashed = hash.Of(newPin);
        return await writer.Write(async db =>
        {
            var person = await db.People.SingleOrDefaultAsync(p => p.Id == id);
            if (person is null)
                return new Refusal(RefusedBecause.NotThere, "There is no such person.");
            if (person.Roles.HasFlag(Roles.Administrator) && !by.Has(Roles.Administrator))
                return new Refusal(RefusedBecause.NotAllowed, "Only an administrator resets an administrator's PIN.");
            person.PinHash = hashed;
            person.PinToBeChanged = true;
            person.FailedPins = 0;
            person.Stamp = Guid.NewGuid();
            await db.SaveChangesAsync();
            return null;
        });
    }
}
