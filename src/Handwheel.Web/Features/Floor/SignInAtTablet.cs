using System.Security.Claims;
using Handwheel.Data;
using Handwheel.Web.Features.People;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Floor;

/// <summary>Who is at the tablet: sign-in by person and PIN, "not me", a new PIN, the tablet's name and its settings.</summary>
static class SignInAtTablet
{
    public static void Map(RouteGroupBuilder floor)
    {
        floor.MapGet("/sign-in", Show);
        floor.MapPost("/sign-in", Post);
        floor.MapPost("/not-me", (Delegate)NotMe);
        floor.MapPost("/pin", NewPin);
        floor.MapPost("/tablet", (Delegate)Settings);
        floor.MapPost("/tablet-name", Name);
    }

    static async Task<IResult> Show(
        HttpContext http,
        IDbContextFactory<HandwheelDb> databases,
        Guid? person,
        bool? password
    ) =>
        http.User.HasClaim(PersonCookie.ChangePin, "yes") && person is null
            ? PinPage(FloorEndpoints.Back(http.Request.Query["return"]), null)
            : await Page(http, databases, person, password is true, null);

    static async Task<RazorComponentResult<SignInPage>> Page(
        HttpContext http,
        IDbContextFactory<HandwheelDb> databases,
        Guid? chosen,
        bool byPassword,
        IReadOnlyList<string>? refusal
    )
    {
        await using var db = await databases.CreateDbContextAsync();
        var people = await db.People.AsNoTracking().Where(p => !p.Disabled).OrderBy(p => p.Name).ToListAsync();
        var place = await TabletCookie.PlaceOf(http, databases);
        var back = HttpMethods.IsPost(http.Request.Method)
            ? http.Request.Form["return"].ToString()
            : http.Request.Query["return"].ToString();
        var who = people.Find(p => p.Id == chosen);
        return FloorEndpoints.Page<SignInPage>(
            new()
            {
                [nameof(SignInPage.People)] = people,
                [nameof(SignInPage.Chosen)] = who,
                [nameof(SignInPage.Return)] = FloorEndpoints.Back(back),
                [nameof(SignInPage.Refusal)] = refusal,
                [nameof(SignInPage.ByPassword)] =
                    byPassword || (who is not null && place.Tablet is null && SignIn.NeedsPassword(who.Roles)),
            }
        );
    }

    static async Task<IResult> Post(HttpContext http, SignIn signIn, IDbContextFactory<HandwheelDb> databases)
    {
        var form = await http.Request.ReadFormAsync();
        _ = Guid.TryParse(form["person"], out var person);
        var place = await TabletCookie.PlaceOf(http, databases);
        var byPassword = form.ContainsKey("password");
        var answer = byPassword
            ? await signIn.WithPassword(person, form["password"].ToString(), place)
            : await signIn.WithPin(person, form["pin"].ToString(), place);
        if (answer.Refused is { } refused)
            return await Page(http, databases, person, byPassword, refused.Reasons);
        await http.SignInAsync(PersonCookie.Scheme, answer.Must);
        var back = FloorEndpoints.Back(form["return"]);
        return answer.Must.HasClaim(PersonCookie.ChangePin, "yes")
            ? Results.LocalRedirect($"/floor/sign-in?return={Uri.EscapeDataString(back)}")
            : Results.LocalRedirect(back);
    }

    static async Task<IResult> NotMe(HttpContext http)
    {
        var form = await http.Request.ReadFormAsync();
        await http.SignOutAsync(PersonCookie.Scheme);
        return Results.LocalRedirect(
            $"/floor/sign-in?return={Uri.EscapeDataString(FloorEndpoints.Back(form["return"]))}"
        );
    }

    static async Task<IResult> NewPin(HttpContext http, ChangePin change, IDbContextFactory<HandwheelDb> databases)
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        var form = await http.Request.ReadFormAsync();
        var back = FloorEndpoints.Back(form["return"]);
        if (form["new"].ToString() != form["again"].ToString())
            return PinPage(back, [Said.In("The two new PINs are not the same. Type the new PIN twice.")]);
        var answer = await change.Run(
            by,
            http.User.Place(),
            http.User.SignedInByPassword(),
            form["pin"].ToString(),
            form["new"].ToString()
        );
        if (answer.Refused is { } refused)
            return PinPage(back, refused.Reasons);
        await http.SignInAsync(PersonCookie.Scheme, answer.Must);
        return Results.LocalRedirect(back);
    }

    static RazorComponentResult<NewPinPage> PinPage(string back, IReadOnlyList<string>? refusal) =>
        FloorEndpoints.Page<NewPinPage>(
            new() { [nameof(NewPinPage.Return)] = back, [nameof(NewPinPage.Refusal)] = refusal }
        );

    static async Task<IResult> Settings(HttpContext http)
    {
        var form = await http.Request.ReadFormAsync();
        TabletChoices.From(form).Keep(http.Response);
        return Results.LocalRedirect(FloorEndpoints.Back(form["return"]));
    }

    static async Task<IResult> Name(HttpContext http, NameTablet name)
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        var form = await http.Request.ReadFormAsync();
        var answer = await name.Run(by, form["name"].ToString());
        if (answer.Refused is { } refused)
            return Results.LocalRedirect($"/floor?refused={Uri.EscapeDataString(refused.ToString())}");
        TabletCookie.Give(http, answer.Must.Tablet.Id, answer.Must.Secret);
        // The sign-in on this tablet names the place it was made at, so it is made anew.
        await http.SignOutAsync(PersonCookie.Scheme);
        return Results.LocalRedirect("/floor/sign-in");
    }
}
