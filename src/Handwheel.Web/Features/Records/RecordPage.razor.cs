using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Shell;
using Microsoft.AspNetCore.Components;

namespace Handwheel.Web.Features.Records;

public sealed partial class RecordPage
{
    OpenedProveOut? open;
    bool loaded;
    TimeZoneInfo zone = TimeZoneInfo.Utc;
    IDisposable? listening;

    [Parameter]
    public Guid Id { get; set; }

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
        loaded = true;
        StateHasChanged();
    }

    string At(DateTimeOffset at) => Shown.When(at, Clock.GetUtcNow(), zone);

    string TitleOf(Act act)
    {
        var step = open!.ProveOut.Steps.FirstOrDefault(s => s.Id == act.About);
        return step is null ? act.About ?? "" : $"{step.Card}, {step.Title}";
    }

    public void Dispose() => listening?.Dispose();
}
