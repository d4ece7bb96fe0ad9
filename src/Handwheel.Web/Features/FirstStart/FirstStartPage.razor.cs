using Handwheel.Data;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.FirstStart;

public partial class FirstStartPage
{
    public sealed class Form
    {
        public string Code { get; set; } = "";
        public string Shop { get; set; } = "";
        public string Name { get; set; } = "";
        public string Password { get; set; } = "";
        public string Pin { get; set; } = "";
    }

    IReadOnlyList<string> refusals = [];
    bool over;

    [SupplyParameterFromForm]
    Form Typed { get; set; } = null!;

    [CascadingParameter]
    HttpContext Http { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    [Inject]
    MakeFirstAdministrator MakeFirstAdministrator { get; set; } = null!;

    [Inject]
    NavigationManager Where { get; set; } = null!;

    protected override async Task OnInitializedAsync()
    {
        Typed ??= new();
        await using var db = await Databases.CreateDbContextAsync();
        over = await db.People.AnyAsync();
    }

    async Task Go()
    {
        var place = await TabletCookie.PlaceOf(Http, Databases);
        var answer = await MakeFirstAdministrator.Run(
            Typed.Code,
            Typed.Shop,
            Typed.Name,
            Typed.Pin,
            Typed.Password,
            place
        );
        if (answer.Refused is { } refused)
        {
            refusals = refused.Reasons;
            return;
        }
        await Http.SignInAsync(PersonCookie.Scheme, answer.Must);
        Where.NavigateTo("/machines/new?first=yes");
    }
}
