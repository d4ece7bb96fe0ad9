namespace Handwheel.Web.Api;

/// <summary>
/// Takes a change only as JSON (or a picture) and only from a page of this server. Browsers say where a request comes from
/// (Sec-Fetch-Site, Origin); what a plain form of another site can send is none of these types.
/// </summary>
static class FromThisSite
{
    public static async ValueTask<object?> Check(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var request = context.HttpContext.Request;
        if (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method))
            return await next(context);
        if (!IsOurs(request))
            return Results.Problem(
                statusCode: StatusCodes.Status403Forbidden,
                title: "From another site.",
                detail: "This request does not come from a page of this server."
            );
        return request.HasJsonContentType() || request.ContentType is "image/jpeg" or "image/png"
            ? await next(context)
            : Results.Problem(
                statusCode: StatusCodes.Status415UnsupportedMediaType,
                title: "Not JSON.",
                detail: "Send application/json, or a picture as image/jpeg or image/png."
            );
    }

    static bool IsOurs(HttpRequest request)
    {
        if (request.Headers["Sec-Fetch-Site"] is [{ } site] && site is not "same-origin")
            return false;
        return request.Headers.Origin is not [{ } origin]
            || (
                Uri.TryCreate(origin, UriKind.Absolute, out var from)
                && from.Authority.Equals(request.Host.Value, StringComparison.OrdinalIgnoreCase)
            );
    }
}
