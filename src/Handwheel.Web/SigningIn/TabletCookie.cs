using System.Security.Cryptography;
using System.Text;
using Handwheel.Data;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.SigningIn;

/// <summary>How a tablet shows which one it is: its id and a secret, in a cookie that scripts cannot read.</summary>
public static class TabletCookie
{
    const string Name = "handwheel-tablet";
    static readonly HostPrefixedCookies Cookies = new();

    public static string NewSecret() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32));

    public static string Hash(string secret) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(secret)));

    /// <summary>Makes the browser that asks this tablet, for two years.</summary>
    public static void Give(HttpContext context, Guid tablet, string secret) =>
        Cookies.AppendResponseCookie(
            context,
            Name,
            $"{tablet:N}.{secret}",
            new CookieOptions
            {
                HttpOnly = true,
                IsEssential = true,
                MaxAge = TimeSpan.FromDays(730),
                Path = "/",
                SameSite = SameSiteMode.Lax,
                Secure = context.Request.IsHttps,
            }
        );

    /// <summary>The tablet that asks, or the browser without a name.</summary>
    public static async Task<Place> PlaceOf(HttpContext context, IDbContextFactory<HandwheelDb> databases)
    {
        var browser = Place.Browser(context.Connection.RemoteIpAddress?.ToString());
        var parts = (Cookies.GetRequestCookie(context, Name) ?? "").Split('.');
        if (parts is not [var id, var secret] || !Guid.TryParseExact(id, "N", out var tablet))
            return browser;
        await using var db = await databases.CreateDbContextAsync();
        var hash = Hash(secret);
        var known = await db
            .Tablets.AsNoTracking()
            .SingleOrDefaultAsync(t => t.Id == tablet && t.SecretHash == hash && !t.Revoked);
        return known is null ? browser : new Place(known.Id, known.Name, known.Id.ToString());
    }
}
