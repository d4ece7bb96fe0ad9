using Handwheel.Data;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;
using Hazard = Handwheel.Jobs.Proving.Hazard;
using LockedOut = Handwheel.Jobs.Proving.LockedOut;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Machines;

public partial class MachineDeskPage
{
    Machine? machine;
    MachineForm? form;
    bool loaded;
    bool mayEdit;
    bool retired;
    string name = "";
    string note = "";
    string? said;
    List<string> refusals = [];
    IReadOnlyList<Hazard> hazards = [];
    LockedOut? lockedOut;
    TimeZoneInfo zone = TimeZoneInfo.Utc;

    [Parameter]
    public Guid Id { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    [Inject]
    ProveOutReader ProveOuts { get; set; } = null!;

    [Inject]
    EditMachine EditMachine { get; set; } = null!;

    [Inject]
    TimeProvider Clock { get; set; } = null!;

    protected override async Task OnParametersSetAsync()
    {
        mayEdit = (await SignedIn).User.Actor() is { } by && Policies.Allows(Policies.Supervises, by.Roles);
        await Load();
    }

    async Task Load()
    {
        await using var db = await Databases.CreateDbContextAsync();
        machine = await db.Machines.AsNoTracking().SingleOrDefaultAsync(m => m.Id == Id);
        loaded = true;
        if (machine is null)
            return;
        form = new(machine.Facts);
        (name, note, retired) = (machine.Name, machine.Note, machine.Retired);
        var state = await ProveOuts.StateOf(db, Id);
        (hazards, lockedOut) = (state.Ledger.Hazards, state.LockedOut);
        zone = TimeZoneInfo.FindSystemTimeZoneById((await db.Shop()).Zone);
    }

    async Task Save()
    {
        (refusals, said) = ([], null);
        var facts = form!.Write(name, refusals);
        if (refusals.Count > 0 || (await SignedIn).User.Actor() is not { } by)
            return;
        var refused = await EditMachine.Run(by, Id, machine!.Version, name, facts, note, retired);
        refusals = [.. refused?.Reasons ?? []];
        if (refused is not null)
            return;
        said = "Saved.";
        await Load();
    }
}
