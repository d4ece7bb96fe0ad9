using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

/// <summary>A supervisor has looked into the wrong tries and forgets them, so that PINs and tablets work again.</summary>
public sealed class LiftSignInLock(ShopWriter writer)
{
    public async Task<Refusal?> Run(Actor by)
    {
        if (!Policies.Allows(Policies.Supervises, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Only a supervisor or an administrator lifts the lock.");
        await writer.Write(db => db.FailedSignIns.ExecuteDeleteAsync());
        return null;
    }
}
