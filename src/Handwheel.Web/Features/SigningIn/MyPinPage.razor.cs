using Handwheel.Web.Features.People;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Components;

namespace Handwheel.Web.Features.SigningIn;

public partial class MyPinPage
{
    public sealed class Form
    {
        public string Old { get; set; } = "";
        public string New { get; set; } = "";
        public string Again { get; set; } = "";
    }

    IReadOnlyList<string> refusals = [];

    [SupplyParameterFromForm]
    Form Typed { get; set; } = null!;

    [CascadingParameter]
    HttpContext Http { get; set; } = null!;

    [Inject]
    ChangePin ChangePin { get; set; } = null!;

    [Inject]
    NavigationManager Where { get; set; } = null!;

    protected override void OnInitialized() => Typed ??= new();

    async Task Go()
    {
        if (Typed.New != Typed.Again)
        {
            refusals = ["The new PIN was typed in two ways. Type it again."];
            return;
        }
        if (Http.User.Actor() is not { } by)
            return;
        var answer = await ChangePin.Run(by, Http.User.Place(), Http.User.SignedInByPassword(), Typed.Old, Typed.New);
        if (answer.Refused is { } refused)
        {
            refusals = refused.Reasons;
            return;
        }
        await Http.SignInAsync(PersonCookie.Scheme, answer.Must);
        Where.NavigateTo("/");
    }
}
