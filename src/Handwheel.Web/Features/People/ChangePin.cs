using System.Security.Claims;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

/// <summary>A person chooses another PIN. All other sign-ins of that person end; the answer is the new one.</summary>
public sealed class ChangePin(ShopWriter writer, SecretCheck check, SecretHash hash)
{
    public async Task<Answer<ClaimsPrincipal>> Run(Actor by, Place place, bool byPassword, string oldPin, string newPin)
    {
        if (SecretRules.WhyNotPin(newPin) is { } wrong)
            return new Refusal(RefusedBecause.NotAcceptable, wrong);
        if (oldPin == newPin)
            return new Refusal(RefusedBecause.NotAcceptable, Said.In("That is the old PIN. Choose another."));
        var known = await check.Pin(by.Person, oldPin, place);
        if (known.Refused is { } refused)
            return refused;
        var hashed = hash.Of(newPin);
        return await writer.Write<Answer<ClaimsPrincipal>>(async db =>
        {
            var person = await db.People.SingleAsync(p => p.Id == by.Person);
            person.PinHash = hashed;
            person.PinToBeChanged = false;
            person.Stamp = Guid.NewGuid();
            await db.SaveChangesAsync();
            return PersonCookie.Principal(person, place, byPassword);
        });
    }
}
