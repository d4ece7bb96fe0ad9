using Handwheel.Data;
using Handwheel.Jobs.Setups;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Jobs;

public sealed partial class AnotherMachinePage
{
    OpenedJob? job;
    bool loaded;
    bool busy;
    string chosen = "";
    string? whyNot;
    List<Machine> machines = [];
    IReadOnlyList<string> refusals = [];

    [Parameter]
    public int Number { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    [Inject]
    JobReader Jobs { get; set; } = null!;

    [Inject]
    SetUpOnAnotherMachine SetUp { get; set; } = null!;

    [Inject]
    NavigationManager Where { get; set; } = null!;

    Machine? On => machines.Find(m => m.Id.ToString() == chosen);

    string Chosen
    {
        get => chosen;
        set
        {
            (chosen, refusals) = (value, []);
            whyNot = On is { } on ? SetUpOnAnotherMachine.WhyNotIn(job!.Setup, on) : null;
        }
    }

    protected override async Task OnParametersSetAsync()
    {
        await using var db = await Databases.CreateDbContextAsync();
        job = await Jobs.OpenNumber(Number);
        loaded = true;
        if (job is not null)
            machines = await db
                .Machines.AsNoTracking()
                .Where(m => !m.Retired && m.Id != job.Machine.Id)
                .OrderBy(m => m.Name)
                .ToListAsync();
    }

    IReadOnlyList<MachineDifference> Differences(Machine on) =>
        MachineComparison.Of(job!.Setup, SetUpOnAnotherMachine.Alone(on));

    async Task Make()
    {
        if (On is not { } on || (await SignedIn).User.Actor() is not { } by)
            return;
        busy = true;
        StateHasChanged();
        var answer = await SetUp.Run(by, job!.Job.Id, on.Id);
        busy = false;
        if (answer.Refused is { } refused)
            refusals = refused.Reasons;
        else
            Where.NavigateTo($"/jobs/{answer.Must.Number}/setup");
    }
}
