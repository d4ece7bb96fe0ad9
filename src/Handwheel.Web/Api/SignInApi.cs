using Handwheel.Data;
using Handwheel.Web.Features.People;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Authentication;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Api;

/// <summary>Signing in and out for scripts; pages do the same with forms.</summary>
static class SignInApi
{
    /// <param name="Pin">Either this or <paramref name="Password"/>.</param>
    sealed record Asked(Guid Person, string? Pin, string? Password);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapPost("/sign-in", SignInHere).AllowAnonymous().WithName("SignIn");
        api.MapPost("/sign-out", (Delegate)SignOutHere).RequireAuthorization(Policies.SignedIn).WithName("SignOut");
    }

    static async Task<IResult> SignInHere(
        HttpContext http,
        Asked asked,
        SignIn signIn,
        IDbContextFactory<HandwheelDb> databases
    )
    {
        var place = await TabletCookie.PlaceOf(http, databases);
        var answer = asked.Password is { } password
            ? await signIn.WithPassword(asked.Person, password, place)
            : await signIn.WithPin(asked.Person, asked.Pin ?? "", place);
        if (answer.Refused is { } refused)
            return Problems.Of(refused);
        await http.SignInAsync(PersonCookie.Scheme, answer.Must);
        return Results.NoContent();
    }

    static async Task<IResult> SignOutHere(HttpContext http)
    {
        await http.SignOutAsync(PersonCookie.Scheme);
        return Results.NoContent();
    }
}
