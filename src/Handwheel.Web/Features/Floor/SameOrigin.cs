namespace Handwheel.Web.Features.Floor;

/// <summary>
/// A form of a page at the machine is taken only from a page of this server: browsers say where a post came from
/// (Sec-Fetch-Site, else Origin), and one that says nothing is refused.
/// </summary>
static class SameOrigin
{
    public static bool Allows(HttpRequest request)
    {
        if (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method))
            return true;
        if (request.Headers["Sec-Fetch-Site"] is [{ } site])
            return site == "same-origin";
        return request.Headers.Origin is [{ } origin]
            && Uri.TryCreate(origin, UriKind.Absolute, out var from)
            && from.Authority.Equals(request.Host.Value, StringComparison.OrdinalIgnoreCase);
    }

    public static async ValueTask<object?> Filter(
        EndpointFilterInvocationContext context,
        EndpointFilterDelegate next
    ) => Allows(context.HttpContext.Request) ? await next(context) : Results.StatusCode(StatusCodes.Status403Forbidden);
}
