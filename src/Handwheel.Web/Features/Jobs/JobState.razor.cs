using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Shell;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Hazard = Handwheel.Jobs.Proving.Hazard;

namespace Handwheel.Web.Features.Jobs;

/// <summary>Where a job stands and what can be done with it now.</summary>
public partial class JobState
{
    IReadOnlyList<string> refusals = [];

    [Parameter, EditorRequired]
    public required OpenedJob Job { get; set; }

    /// <summary>All prove-outs of the job, the newest first.</summary>
    [Parameter, EditorRequired]
    public required IReadOnlyList<ProveOutLog> ProveOuts { get; set; }

    [Parameter, EditorRequired]
    public required IReadOnlyList<Hazard> Hazards { get; set; }

    /// <summary>What is locked out or bypassed on the machine; null: nothing that anybody wrote.</summary>
    [Parameter]
    public LockedOut? LockedOut { get; set; }

    [Parameter, EditorRequired]
    public required TimeZoneInfo Zone { get; set; }

    /// <summary>What was released; null: nothing yet.</summary>
    [Parameter]
    public ProvenProgram? Proven { get; set; }

    /// <summary>Why the short list is not enough; null: it is, where <see cref="Proven"/> is given.</summary>
    [Parameter]
    public string? WhyNotAgain { get; set; }

    [Parameter]
    public EventCallback OnChanged { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    StartProveOut StartProveOut { get; set; } = null!;

    [Inject]
    PutAwayJob PutAwayJob { get; set; } = null!;

    [Inject]
    NavigationManager Where { get; set; } = null!;

    [Inject]
    TimeProvider Clock { get; set; } = null!;

    ProveOutLog? UnderWay => ProveOuts.FirstOrDefault(p => p.End is ProveOutEnd.Open);

    string Stands =>
        ProveOuts switch
        {
            [] => "Not begun.",
            [{ End: ProveOutEnd.Open } now, ..] => $"Prove-out begun {At(now.StartedAt)}.",
            [{ End: ProveOutEnd.Released } last, ..] => $"Released {At(last.EndedAt ?? last.StartedAt)}.",
            [var last, ..] => $"The last prove-out was abandoned {At(last.EndedAt ?? last.StartedAt)}.",
        };

    string At(DateTimeOffset at) => Shown.When(at, Clock.GetUtcNow(), Zone);

    async Task Begin(Purpose purpose)
    {
        var user = (await SignedIn).User;
        if (user.Actor() is not { } by)
            return;
        var answer = await StartProveOut.Run(by, user.Place(), Job.Job.Id, purpose);
        if (answer.Refused is { } refused)
            refusals = refused.Reasons;
        else
            Where.NavigateTo($"/floor/prove-outs/{answer.Must.Id}", forceLoad: true);
    }

    async Task PutAway()
    {
        if ((await SignedIn).User.Actor() is not { } by)
            return;
        refusals = (await PutAwayJob.Run(by, Job.Job.Id, !Job.Job.PutAway))?.Reasons ?? [];
        await OnChanged.InvokeAsync();
    }
}
