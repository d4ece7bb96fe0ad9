using Handwheel.Data;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Web.Shell;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Cutting;

public sealed partial class CuttingDataPage
{
    CuttingTable? table;
    List<CuttingTableVersion> versions = [];
    bool loaded;
    bool mayEdit;
    TimeZoneInfo zone = TimeZoneInfo.Utc;

    /// <summary>The version to show; null: the one in force.</summary>
    [Parameter]
    public string? Sha256 { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    CuttingTableReader Tables { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    string Here => Sha256 is null ? "/cutting-data" : "/cutting-data/" + Sha256;

    protected override async Task OnParametersSetAsync()
    {
        mayEdit = (await SignedIn).User.Actor() is { } by && Policies.Allows(Policies.KeepsCuttingData, by.Roles);
        table = Sha256 is null ? (await Tables.InForce()).Table : await Tables.Find(Sha256);
        await using var db = await Databases.CreateDbContextAsync();
        versions = await db.CuttingTables.AsNoTracking().OrderByDescending(v => v.Number).ToListAsync();
        zone = TimeZoneInfo.FindSystemTimeZoneById((await db.Shop()).Zone);
        loaded = true;
    }

    string Since() =>
        versions.Find(v => v.Sha256 == table!.Sha256) is { } version
            ? $"{Shown.Moment(version.At, zone)}, by {version.PersonName}{(version.Why.Length > 0 ? ": " + version.Why : "")}"
            : "the table that comes with the app";
}
