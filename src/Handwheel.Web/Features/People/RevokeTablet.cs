using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

/// <summary>A supervisor takes a tablet out of use; sign-ins made on it end at its next request. Its name may be given again.</summary>
public sealed class RevokeTablet(ShopWriter writer)
{
    public async Task<Refusal?> Run(Actor by, Guid id)
    {
        if (!Policies.Allows(Policies.Supervises, by.Roles))
            return new Refusal(
                RefusedBecause.NotAllowed,
                "Only a supervisor or an administrator takes a tablet out of use."
            );
        return await writer.Write(async db =>
        {
            var tablet = await db.Tablets.SingleOrDefaultAsync(t => t.Id == id && !t.Revoked);
            if (tablet is null)
                return new Refusal(RefusedBecause.NotThere, "There is no such tablet in use.");
            tablet.Revoked = true;
            tablet.Name = $"{tablet.Name} (out of use {tablet.Id:N})";
            await db.SaveChangesAsync();
            return null;
        });
    }
}
