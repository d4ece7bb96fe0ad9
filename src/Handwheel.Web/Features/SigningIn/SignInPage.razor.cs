using System.Security.Claims;
using Handwheel.Data;
using Handwheel.Web.Features.People;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.SigningIn;

public partial class SignInPage
{
    /// <summary>What the form sends. A secret is never sent back to the page.</summary>
    public sealed class Form
    {
        public string Person { get; set; } = "";
        public string Secret { get; set; } = "";
        public string Next { get; set; } = "";
    }

    List<Person> people = [];
    IReadOnlyList<string> refusals = [];
    Place? place;

    [SupplyParameterFromForm]
    Form Typed { get; set; } = null!;

    [SupplyParameterFromQuery]
    public string? Next { get; set; }

    [CascadingParameter]
    HttpContext Http { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    [Inject]
    SignIn SignIn { get; set; } = null!;

    [Inject]
    NavigationManager Where { get; set; } = null!;

    protected override async Task OnInitializedAsync()
    {
        Typed ??= new();
        if (Typed.Next.Length == 0)
            Typed.Next = Next ?? "/";
        place = await TabletCookie.PlaceOf(Http, Databases);
        await using var db = await Databases.CreateDbContextAsync();
        people = await db.People.Where(p => !p.Disabled).OrderBy(p => p.Name).ToListAsync();
        if (people.Count == 0)
            Where.NavigateTo("/first-start");
    }

    async Task Go()
    {
        if (!Guid.TryParse(Typed.Person, out var person))
        {
            refusals = ["Choose your name from the list."];
            return;
        }
        var isPin = Typed.Secret.Length == SecretRules.PinDigits && Typed.Secret.All(char.IsAsciiDigit);
        var answer = isPin
            ? await SignIn.WithPin(person, Typed.Secret, place!)
            : await SignIn.WithPassword(person, Typed.Secret, place!);
        if (answer.Refused is { } refused)
        {
            refusals = refused.Reasons;
            return;
        }
        var principal = answer.Must;
        await Http.SignInAsync(PersonCookie.Scheme, principal);
        Where.NavigateTo(principal.HasClaim(c => c.Type == PersonCookie.ChangePin) ? "/my-pin" : Ours(Typed.Next));
    }

    /// <summary>An address of this server, whatever the link said.</summary>
    static string Ours(string next) =>
        next.StartsWith('/')
        && !next.StartsWith("//", StringComparison.Ordinal)
        && !next.Contains('\\', StringComparison.Ordinal)
            ? next
            : "/";
}
