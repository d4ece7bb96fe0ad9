using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

/// <summary>A supervisor gives the tablet in hand a name; records then say where something was written.</summary>
public sealed class NameTablet(ShopWriter writer, TimeProvider time)
{
    /// <param name="Secret">Goes into the tablet's cookie (<see cref="TabletCookie.Give"/>) and nowhere else.</param>
    public sealed record Named(Tablet Tablet, string Secret);

    public async Task<Answer<Named>> Run(Actor by, string name)
    {
        if (!Policies.Allows(Policies.Supervises, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Only a supervisor or an administrator names a tablet.");
        if (SecretRules.WhyNotName(name) is { } wrong)
            return new Refusal(RefusedBecause.NotAcceptable, wrong);
        var secret = TabletCookie.NewSecret();
        var tablet = new Tablet
        {
            Name = name.Trim(),
            SecretHash = TabletCookie.Hash(secret),
            NamedAt = time.GetUtcNow(),
            NamedBy = by.Person,
        };
        return await writer.Write<Answer<Named>>(async db =>
        {
            if (await db.Tablets.AnyAsync(t => t.Name == tablet.Name))
                return new Refusal(
                    RefusedBecause.NotAcceptable,
                    $"There is a tablet {tablet.Name} already. Take that one out of use first, or choose another name."
                );
            db.Tablets.Add(tablet);
            await db.SaveChangesAsync();
            return new Named(tablet, secret);
        });
    }
}
