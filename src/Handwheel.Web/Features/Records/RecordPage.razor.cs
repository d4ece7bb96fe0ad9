using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Shell;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;

namespace Handwheel.Web.Features.Records;

public sealed partial class RecordPage
{
    OpenedProveOut? open;
    bool loaded;

    /// <summary>What was typed is on the page: the prove-out has ended, or a supervisor reviews it and nothing can be asked blind.</summary>
    bool showsTyped;
    TimeZoneInfo zone = TimeZoneInfo.Utc;
    IDisposable? listening;

    [Parameter]
    public Guid Id { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    ProveOutReader ProveOuts { get; set; } = null!;

    [Inject]
    ShopNews News { get; set; } = null!;

    [Inject]
    TimeProvider Clock { get; set; } = null!;

    string Stands =>
        open!.Log.End switch
        {
            ProveOutEnd.Open => "Under way.",
            ProveOutEnd.Released => $"Released {At(open.Log.EndedAt ?? open.Log.StartedAt)}.",
            _ => $"Abandoned {At(open.Log.EndedAt ?? open.Log.StartedAt)}.",
        };

    string Withheld =>
        showsTyped
            ? "The record to take away is here once the prove-out has ended."
            : "Values that were typed are here for a supervisor once every blind reading is done, and for everybody once the prove-out has ended: until then some of them may have to be read blind again. The record to take away is here then too.";

    protected override void OnInitialized()
    {
        if (RendererInfo.IsInteractive)
            listening = News.Listen(news =>
            {
                if (news.ProveOut is null || news.ProveOut == Id)
                    _ = InvokeAsync(Load);
            });
    }

    protected override Task OnParametersSetAsync() => Load();

    async Task Load()
    {
        open = await ProveOuts.Open(Id);
        zone = open is null ? TimeZoneInfo.Utc : TimeZoneInfo.FindSystemTimeZoneById(open.Log.Zone);
        var supervises = (await SignedIn).User.Actor() is { } by && Policies.Allows(Policies.Supervises, by.Roles);
        showsTyped =
            open is not null && (open.Log.End is not ProveOutEnd.Open || (supervises && open.ProveOut.MayBeReviewed));
        loaded = true;
        StateHasChanged();
    }

    string At(DateTimeOffset at) => Shown.When(at, Clock.GetUtcNow(), zone);

    string TitleOf(Act act)
    {
        var step = open!.ProveOut.Steps.FirstOrDefault(s => s.Id == act.About);
        if (step is null && act.About is { } id)
            return StepTitles.OfGone(id) ?? id;
        return step is null ? "" : $"{step.Card}, {step.Title}";
    }

    public void Dispose() => listening?.Dispose();
}
