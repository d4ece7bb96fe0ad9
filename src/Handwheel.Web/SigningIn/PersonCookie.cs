using System.Security.Claims;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.SigningIn;

/// <summary>
/// What a sign-in carries: the person, the stamp that ends it, and where it was made. Roles and the stamp are read from
/// the database at every request, so a disabled person's next request is refused.
/// </summary>
public static class PersonCookie
{
    public const string Scheme = CookieAuthenticationDefaults.AuthenticationScheme;
    public const string Stamp = "handwheel:stamp";
    public const string Tablet = "handwheel:tablet";
    public const string PlaceName = "handwheel:place";
    public const string ByPassword = "handwheel:password";
    public const string ChangePin = "handwheel:change-pin";

    public static ClaimsPrincipal Principal(Person person, Place place, bool byPassword)
    {
        var claims = new List<Claim>
        {
            new(ClaimTypes.NameIdentifier, person.Id.ToString()),
            new(ClaimTypes.Name, person.Name),
            new(Stamp, person.Stamp.ToString()),
            new(PlaceName, place.Name),
        };
        claims.AddRange(
            Enum.GetValues<Roles>()
                .Where(r => r != Roles.None && person.Roles.HasFlag(r))
                .Select(r => new Claim(ClaimTypes.Role, r.ToString()))
        );
        if (place.Tablet is { } tablet)
            claims.Add(new Claim(Tablet, tablet.ToString()));
        if (byPassword)
            claims.Add(new Claim(ByPassword, "yes"));
        if (person.PinToBeChanged)
            claims.Add(new Claim(ChangePin, "yes"));
        return new ClaimsPrincipal(new ClaimsIdentity(claims, Scheme));
    }

    /// <summary>The person signed in, or null.</summary>
    public static Actor? Actor(this ClaimsPrincipal principal)
    {
        if (!Guid.TryParse(principal.FindFirstValue(ClaimTypes.NameIdentifier), out var id))
            return null;
        var roles = default(Roles);
        foreach (var role in principal.FindAll(ClaimTypes.Role))
            if (Enum.TryParse<Roles>(role.Value, out var one))
                roles |= one;
        return new Actor(id, principal.FindFirstValue(ClaimTypes.Name) ?? "", roles);
    }

    /// <summary>Where the sign-in was made; the name is what records print.</summary>
    public static Place Place(this ClaimsPrincipal principal)
    {
        var name = principal.FindFirstValue(PlaceName) ?? "desk";
        return Guid.TryParse(principal.FindFirstValue(Tablet), out var tablet)
            ? new Place(tablet, name, tablet.ToString())
            : new Place(null, name, "person " + principal.FindFirstValue(ClaimTypes.NameIdentifier));
    }

    public static bool SignedInByPassword(this ClaimsPrincipal principal) => principal.HasClaim(ByPassword, "yes");

    /// <summary>True while the person is not disabled and neither PIN, password nor roles have changed since the sign-in.</summary>
    public static async Task<bool> StillHolds(this ClaimsPrincipal principal, IDbContextFactory<HandwheelDb> databases)
    {
        if (principal.Actor() is not { } actor || !Guid.TryParse(principal.FindFirstValue(Stamp), out var stamp))
            return false;
        await using var db = await databases.CreateDbContextAsync();
        if (!await db.People.AnyAsync(p => p.Id == actor.Person && p.Stamp == stamp && !p.Disabled))
            return false;
        return principal.Place().Tablet is not { } tablet
            || await db.Tablets.AnyAsync(t => t.Id == tablet && !t.Revoked);
    }

    internal static void Configure(CookieAuthenticationOptions options)
    {
        options.Cookie.Name = "handwheel";
        options.Cookie.HttpOnly = true;
        options.Cookie.SameSite = SameSiteMode.Lax;
        options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        options.CookieManager = new HostPrefixedCookies();
        // A shift; every signature asks for the PIN again, and the pages at the machine lock themselves much sooner.
        options.ExpireTimeSpan = TimeSpan.FromHours(10);
        options.SlidingExpiration = true;
        options.LoginPath = "/sign-in";
        options.ReturnUrlParameter = "next";
        options.AccessDeniedPath = "/may-not-see";
        options.Events.OnRedirectToLogin = at => StatusForApi(at, StatusCodes.Status401Unauthorized);
        options.Events.OnRedirectToAccessDenied = at => StatusForApi(at, StatusCodes.Status403Forbidden);
        options.Events.OnValidatePrincipal = async at =>
        {
            var databases = at.HttpContext.RequestServices.GetRequiredService<IDbContextFactory<HandwheelDb>>();
            if (at.Principal is { } principal && await principal.StillHolds(databases))
                return;
            at.RejectPrincipal();
            await at.HttpContext.SignOutAsync(Scheme);
        };
    }

    static Task StatusForApi(RedirectContext<CookieAuthenticationOptions> at, int status)
    {
        if (at.Request.Path.StartsWithSegments("/api", StringComparison.OrdinalIgnoreCase))
            at.Response.StatusCode = status;
        else if (status == StatusCodes.Status403Forbidden)
            at.Response.StatusCode = status;
        else
            at.Response.Redirect(at.RedirectUri);
        return Task.CompletedTask;
    }
}
