using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Handwheel.Web.Features.Floor;

/// <summary>The pages at the machine: plain documents and plain posts, so that nothing on them waits for a circuit.</summary>
public static class FloorEndpoints
{
    public static void MapFloor(this IEndpointRouteBuilder app)
    {
        var floor = app.MapGroup("/floor").AddEndpointFilter(SameOrigin.Filter).AddEndpointFilter(OpenedBy.OfPage);
        SignInAtTablet.Map(floor);
        MachineAtTablet.Map(floor);
        ProveOutAtTablet.Map(floor);
        PhotoAtTablet.Map(floor);
        HandoffAtTablet.Map(floor);
        KeptAtTablet.Map(floor);
    }

    internal static RazorComponentResult<T> Page<T>(
        Dictionary<string, object?> parameters,
        int status = StatusCodes.Status200OK
    )
        where T : IComponent => new(parameters) { PreventStreamingRendering = true, StatusCode = status };

    /// <summary>A path of this server, or the first page; never back to a page that is left by signing in.</summary>
    internal static string Back(string? path) =>
        path is { Length: > 1 }
        && path[0] == '/'
        && path[1] is not ('/' or '\\')
        && !path.Any(char.IsControl)
        && !LeftBySigningIn.Any(p => path.StartsWith(p, StringComparison.OrdinalIgnoreCase))
            ? path
            : "/floor";

    static readonly string[] LeftBySigningIn = ["/floor/sign-in", "/floor/no-connection"];

    /// <summary>To the sign-in page, and back here afterwards.</summary>
    internal static IResult SignInFirst(HttpContext http)
    {
        var here = HttpMethods.IsGet(http.Request.Method) ? http.Request.Path + http.Request.QueryString : "/floor";
        return Results.LocalRedirect($"/floor/sign-in?return={Uri.EscapeDataString(here)}");
    }
}
