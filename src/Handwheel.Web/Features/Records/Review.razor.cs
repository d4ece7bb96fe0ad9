using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;

namespace Handwheel.Web.Features.Records;

/// <summary>A supervisor's review of a prove-out: signs and releases it, or sends steps back.</summary>
public partial class Review
{
    const string ReleaseStep = "release.signed";

    readonly HashSet<string> again = new(StringComparer.Ordinal);
    IReadOnlyList<string> whyNot = [];
    IReadOnlyList<string> refusals = [];
    string pin = "";
    string reason = "";
    bool busy;

    [Parameter, EditorRequired]
    public required OpenedProveOut Open { get; set; }

    [Parameter]
    public EventCallback OnDone { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    TakeAct TakeAct { get; set; } = null!;

    protected override async Task OnParametersSetAsync()
    {
        if ((await SignedIn).User.Actor() is { } by)
            whyNot = Open.ProveOut.WhyNot(new Signed(ReleaseStep, SignedAs.Reviewed), by);
    }

    void Toggle(string step)
    {
        if (!again.Remove(step))
            again.Add(step);
    }

    Task Release() => Sign(new Signed(ReleaseStep, SignedAs.Reviewed));

    Task SendBack() => Sign(new SentBack([.. again.Order(StringComparer.Ordinal)], reason.Trim()));

    async Task Sign(Act act)
    {
        var user = (await SignedIn).User;
        if (user.Actor() is not { } by)
            return;
        busy = true;
        var answer = await TakeAct.Run(
            new(
                Open.Log.Id,
                Guid.NewGuid().ToString("N"),
                Open.ProveOut.Last,
                act,
                by,
                user.Place(),
                user.SignedInByPassword(),
                pin
            )
        );
        (busy, pin) = (false, "");
        refusals = answer.Refused?.Reasons ?? [];
        if (answer.Refused is null)
            await OnDone.InvokeAsync();
    }
}
