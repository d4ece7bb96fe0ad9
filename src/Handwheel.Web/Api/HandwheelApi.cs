using Handwheel.Data;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Authentication.Cookies;

namespace Handwheel.Web.Api;

public static class HandwheelApi
{
    /// <summary>Everything below <c>/api</c>, and <c>/health</c>. Whatever does not say otherwise needs a signed-in person.</summary>
    public static void MapHandwheelApi(this WebApplication app)
    {
        var api = app.MapGroup("/api")
            .AddEndpointFilter(FromThisSite.Check)
            .AddEndpointFilter(OpenedBy.OfScript)
            .RequireAuthorization(Policies.SignedIn);
        ActsApi.Map(api);
        SignInApi.Map(api);
        RecordsApi.Map(api);
        PhotosApi.Map(api);
        app.MapGet("/health", Health).AllowAnonymous().WithName("Health");
    }

    /// <summary>200 while the shop can store what it acknowledges, else 503 and since when.</summary>
    static async Task<IResult> Health(ShopWriter writer)
    {
        if (writer.CannotSaveSince is not null)
            await ShopProbe.TryToWrite(writer);
        return writer.CannotSaveSince is { } since
            ? Results.Json(new { state = "cannot save", since }, statusCode: StatusCodes.Status503ServiceUnavailable)
            : Results.Ok(new { state = "well" });
    }
}
