using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;

namespace Handwheel.Web.Features.Jobs;

/// <summary>Asks what the parameters hold that the program reads and nobody can know, and shows what was said.</summary>
public sealed partial class ParameterValuesBox
{
    /// <summary>What is being typed for one parameter.</summary>
    public sealed class Typing
    {
        public string Value { get; set; } = "";
        public string From { get; set; } = "";
    }

    readonly Dictionary<int, Typing> drafts = [];
    IReadOnlyList<string> refusals = [];
    int? changing;
    bool busy;

    [Parameter, EditorRequired]
    public required OpenedJob Job { get; set; }

    /// <summary>A prove-out of the job is under way: a reason is needed.</summary>
    [Parameter, EditorRequired]
    public bool UnderWay { get; set; }

    [Parameter, EditorRequired]
    public required TimeZoneInfo Zone { get; set; }

    [Parameter, EditorRequired]
    public required Func<int, string> LineLink { get; set; }

    [Parameter]
    public Func<string, int, string>? FileLink { get; set; }

    [Parameter]
    public EventCallback OnChanged { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    SayParameter SayParameter { get; set; } = null!;

    [Inject]
    TimeProvider Clock { get; set; } = null!;

    Typing DraftOf(int number) => drafts.TryGetValue(number, out var draft) ? draft : drafts[number] = new();

    void Open(SaidValue said)
    {
        refusals = [];
        changing = changing == said.Number ? null : said.Number;
        DraftOf(said.Number).Value = said.Typed;
    }

    Task Say(int number)
    {
        var draft = DraftOf(number);
        if (draft.Value.Length > 0)
            return Send(number, draft.Value, draft.From);
        refusals = [$"Type what the control shows in #{number}."];
        return Task.CompletedTask;
    }

    Task TakeBack(int number) => Send(number, "", DraftOf(number).From);

    async Task Send(int number, string typed, string from)
    {
        var user = (await SignedIn).User;
        if (user.Actor() is not { } by)
            return;
        busy = true;
        StateHasChanged();
        var refused = await SayParameter.Run(by, user.Place(), Job.Job.Id, Job.Job.Version, number, typed, from);
        busy = false;
        refusals = refused?.Reasons ?? [];
        if (refused is not null)
            return;
        drafts.Remove(number);
        changing = null;
        await OnChanged.InvokeAsync();
    }
}
