using Handwheel.Data;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

public partial class TabletsPage
{
    IReadOnlyList<Tablet> tablets = [];
    IReadOnlyList<string> refusals = [];
    Place? place;

    [SupplyParameterFromForm(FormName = "name-tablet")]
    string? TypedName { get; set; }

    [CascadingParameter]
    HttpContext Http { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    [Inject]
    NameTablet NameTablet { get; set; } = null!;

    [Inject]
    RevokeTablet RevokeTablet { get; set; } = null!;

    protected override async Task OnInitializedAsync()
    {
        place = await TabletCookie.PlaceOf(Http, Databases);
        await Load();
    }

    async Task Load()
    {
        await using var db = await Databases.CreateDbContextAsync();
        tablets = await db.Tablets.Where(t => !t.Revoked).OrderBy(t => t.Name).ToListAsync();
    }

    async Task Name()
    {
        if (Http.User.Actor() is not { } by)
            return;
        var answer = await NameTablet.Run(by, TypedName ?? "");
        if (answer.Refused is { } refused)
        {
            refusals = refused.Reasons;
            return;
        }
        var named = answer.Must;
        TabletCookie.Give(Http, named.Tablet.Id, named.Secret);
        place = new Place(named.Tablet.Id, named.Tablet.Name, named.Tablet.Id.ToString());
        TypedName = "";
        await Load();
    }

    async Task Revoke(Guid id)
    {
        if (Http.User.Actor() is not { } by)
            return;
        refusals = (await RevokeTablet.Run(by, id))?.Reasons ?? [];
        await Load();
    }
}
