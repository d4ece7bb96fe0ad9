using Handwheel.Data;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Serving;

/// <summary>An open page asks every ten seconds whether its sign-in still holds; a disabled person's page signs itself out.</summary>
sealed class StillSignedIn(ILoggerFactory logs, IDbContextFactory<HandwheelDb> databases)
    : RevalidatingServerAuthenticationStateProvider(logs)
{
    protected override TimeSpan RevalidationInterval => TimeSpan.FromSeconds(10);

    protected override async Task<bool> ValidateAuthenticationStateAsync(
        AuthenticationState authenticationState,
        CancellationToken cancellationToken
    )
    {
        try
        {
            return await authenticationState.User.StillHolds(databases);
        }
        catch (ObjectDisposedException)
        {
            // The server is stopping and has closed its database: nobody is signed in to it any more.
            return false;
        }
    }
}
