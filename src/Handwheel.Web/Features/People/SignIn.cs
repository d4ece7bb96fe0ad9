using System.Security.Claims;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.People;

/// <summary>
/// Signs a person in: with the PIN at a tablet that has a name, or at a desk with the password. Somebody who supervises
/// needs the password at a browser without a name.
/// </summary>
public sealed class SignIn(SecretCheck check)
{
    public async Task<Answer<ClaimsPrincipal>> WithPin(Guid person, string pin, Place place)
    {
        var answer = await check.Pin(person, pin, place);
        if (answer.Refused is { } refused)
            return refused;
        var known = answer.Must;
        if (place.Tablet is null && NeedsPassword(known.Roles))
            return new Refusal(
                RefusedBecause.NotAllowed,
                Said.In(
                    "Supervisors and administrators sign in with their password here. The PIN is for tablets that have a name."
                )
            );
        return PersonCookie.Principal(known, place, byPassword: false);
    }

    public async Task<Answer<ClaimsPrincipal>> WithPassword(Guid person, string password, Place place)
    {
        var answer = await check.Password(person, password, place);
        return answer.Refused is { } refused ? refused : PersonCookie.Principal(answer.Must, place, byPassword: true);
    }

    /// <summary>These roles have a password beside the PIN.</summary>
    public static bool NeedsPassword(Roles roles) => Policies.Allows(Policies.Supervises, roles);
}
