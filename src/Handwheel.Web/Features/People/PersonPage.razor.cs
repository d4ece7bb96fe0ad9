using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

public partial class PersonPage
{
    Person? person;
    bool loaded;
    bool mayEdit;
    bool mayReset;
    bool isMe;
    bool disabled;
    Roles roles;
    string pin = "";
    string password = "";
    string current = "";
    string? said;
    IReadOnlyList<string> refusals = [];

    [Parameter]
    public Guid Id { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    [Inject]
    EditPerson EditPerson { get; set; } = null!;

    [Inject]
    ResetPin ResetPin { get; set; } = null!;

    [Inject]
    SetPassword SetPassword { get; set; } = null!;

    protected override async Task OnParametersSetAsync()
    {
        var by = (await SignedIn).User.Actor();
        mayEdit = by?.Has(Roles.Administrator) == true;
        mayReset = by is not null && Policies.Allows(Policies.Supervises, by.Roles);
        isMe = by?.Person == Id;
        await Load();
    }

    async Task Load()
    {
        await using var db = await Databases.CreateDbContextAsync();
        person = await db.People.AsNoTracking().SingleOrDefaultAsync(p => p.Id == Id);
        loaded = true;
        (roles, disabled) = (person?.Roles ?? Roles.None, person?.Disabled ?? false);
    }

    Task SaveRoles() =>
        Do(by => EditPerson.Run(by, Id, person!.Version, roles, disabled), "Saved. Sign-ins made before have ended.");

    async Task Reset()
    {
        await Do(by => ResetPin.Run(by, Id, pin), "The PIN is reset. Hand it out in person.");
        pin = "";
    }

    async Task ChangePassword()
    {
        var place = (await SignedIn).User.Place();
        await Do(by => SetPassword.Run(by, place, Id, current, password), "The password is set.");
        (current, password) = ("", "");
    }

    async Task Do(Func<Actor, Task<Refusal?>> action, string done)
    {
        if ((await SignedIn).User.Actor() is not { } by)
            return;
        var refused = await action(by);
        refusals = refused?.Reasons ?? [];
        said = refused is null ? done : null;
        if (refused is null)
            await Load();
    }
}
