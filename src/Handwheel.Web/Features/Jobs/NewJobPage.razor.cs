using Handwheel.Data;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Jobs;

public partial class NewJobPage
{
    List<Machine>? machines;
    string chosen = "";
    bool busy;
    int arriving;
    IReadOnlyList<Upload> program = [];
    IReadOnlyList<Upload> setup = [];
    IReadOnlyList<Upload> subprograms = [];
    IReadOnlyList<string> refusals = [];

    [SupplyParameterFromQuery(Name = "machine")]
    public string? On { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    [Inject]
    MakeJob MakeJob { get; set; } = null!;

    [Inject]
    NavigationManager Where { get; set; } = null!;

    protected override async Task OnInitializedAsync()
    {
        await using var db = await Databases.CreateDbContextAsync();
        machines = await db.Machines.AsNoTracking().Where(m => !m.Retired).OrderBy(m => m.Name).ToListAsync();
        chosen = machines.Find(m => m.Id.ToString() == On || machines.Count == 1)?.Id.ToString() ?? "";
    }

    void Arriving(bool begun) => arriving += begun ? 1 : -1;

    async Task Make()
    {
        refusals = WhyNot();
        if (refusals.Count > 0 || (await SignedIn).User.Actor() is not { } by)
            return;
        busy = true;
        StateHasChanged();
        var answer = await MakeJob.Run(
            by,
            Guid.Parse(chosen),
            program[0],
            setup.Count > 0 ? setup[0] : null,
            subprograms
        );
        busy = false;
        if (answer.Refused is { } refused)
            refusals = refused.Reasons;
        else
            Where.NavigateTo($"/jobs/{answer.Must.Number}{(answer.Must.SetupIsDraft ? "/setup" : "")}");
    }

    List<string> WhyNot()
    {
        var reasons = new List<string>();
        if (chosen.Length == 0)
            reasons.Add("No machine is chosen: choose the one it will run on.");
        if (program.Count == 0)
            reasons.Add("No program is chosen: choose its file.");
        return reasons;
    }
}
