using Handwheel.Data;
using Handwheel.Jobs.Templates;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Templates;

public sealed partial class TemplatesPage
{
    List<(Guid Id, string Name, bool Retired)>? machines;
    List<ProvingTemplateVersion> versions = [];
    ProvingTemplate? shop;
    bool mayEdit;
    TimeZoneInfo zone = TimeZoneInfo.Utc;

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    TemplateReader Templates { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    IEnumerable<(Guid? Id, string Name)> Rows =>
        machines!
            .Where(m => !m.Retired)
            .Select(m => ((Guid?)m.Id, m.Name))
            .Prepend((null, TemplateReader.EveryMachine));

    protected override async Task OnInitializedAsync()
    {
        mayEdit = (await SignedIn).User.Actor() is { } by && Policies.Allows(Policies.KeepsTemplates, by.Roles);
        await using var db = await Databases.CreateDbContextAsync();
        versions = await db.ProvingTemplates.AsNoTracking().OrderByDescending(v => v.Number).ToListAsync();
        zone = TimeZoneInfo.FindSystemTimeZoneById((await db.Shop()).Zone);
        shop = (await Templates.InForce(null))?.Template;
        var all = await db.Machines.AsNoTracking().OrderBy(m => m.Name).ToListAsync();
        machines = [.. all.Select(m => (m.Id, m.Name, m.Retired))];
    }

    string NameOf(Guid? machine) =>
        machine is { } id ? machines!.Find(m => m.Id == id).Name : TemplateReader.EveryMachine;
}
