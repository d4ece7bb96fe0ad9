using Microsoft.AspNetCore.Authentication.Cookies;

namespace Handwheel.Web.SigningIn;

/// <summary>
/// On HTTPS a cookie's name starts with <c>__Host-</c>, which makes the browser keep it to this host (RFC 6265bis). A
/// browser refuses that name on plain HTTP, so there the name stays bare.
/// </summary>
sealed class HostPrefixedCookies : ICookieManager
{
    readonly ChunkingCookieManager cookies = new();

    static string Name(HttpContext context, string key) => context.Request.IsHttps ? "__Host-" + key : key;

    public string? GetRequestCookie(HttpContext context, string key) =>
        cookies.GetRequestCookie(context, Name(context, key));

    public void AppendResponseCookie(HttpContext context, string key, string? value, CookieOptions options) =>
        cookies.AppendResponseCookie(context, Name(context, key), value, options);

    public void DeleteCookie(HttpContext context, string key, CookieOptions options) =>
        cookies.DeleteCookie(context, Name(context, key), options);
}
