using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Checking;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

public sealed partial class SubprogramsPage
{
    readonly HashSet<string> away = new(StringComparer.Ordinal);
    OpenedJob? open;
    bool loaded,
        underWay,
        busy,
        arriving;
    string why = "";
    string? said;
    IReadOnlyList<Upload> added = [];
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
    ChangeSubprograms ChangeSubprograms { get; set; } = null!;

    protected override Task OnParametersSetAsync() => Load();

    async Task Load()
    {
        await using var db = await Databases.CreateDbContextAsync();
        open = await Jobs.OpenNumber(Number);
        underWay =
            open is not null && await db.ProveOuts.AnyAsync(p => p.JobId == open.Job.Id && p.End == ProveOutEnd.Open);
        loaded = true;
    }

    /// <summary>Calls that lead nowhere.</summary>
    IEnumerable<Finding> Missing =>
        open!.Check.Findings.Where(f =>
            f.Id == "cannot-follow" && f.Message.StartsWith("subprogram ", StringComparison.Ordinal)
        );

    string LinkOf(Finding finding)
    {
        var line = finding.Line.ToString(CultureInfo.InvariantCulture);
        var file = finding.File is { } name ? $"file={Uri.EscapeDataString(name)}&" : "";
        return $"/jobs/{Number}?{file}line={line}#L{line}";
    }

    string Called(Upload file)
    {
        var calls = open!
            .Check.Program.Subprograms.Where(s => s.File == file.Name)
            .Select(s => $"as {s.Called} at line {s.Line}{(s.From is { } from ? " of " + from : "")}")
            .ToList();
        return calls.Count == 0 ? "not called" : string.Join(", ", calls);
    }

    void Mark(string file, bool gone)
    {
        if (gone)
            away.Add(file);
        else
            away.Remove(file);
    }

    async Task Save()
    {
        (said, refusals) = (null, []);
        var user = (await SignedIn).User;
        if (added.Count == 0 && away.Count == 0)
            refusals = ["Nothing is chosen: add files, or mark the ones to take away."];
        if (refusals.Count > 0 || user.Actor() is not { } by)
            return;
        busy = true;
        StateHasChanged();
        var refused = await ChangeSubprograms.Run(
            by,
            user.Place(),
            open!.Job.Id,
            open.Job.Version,
            added,
            [.. away],
            why
        );
        busy = false;
        refusals = refused?.Reasons ?? [];
        if (refused is not null)
            return;
        var (came, went) = (added.Count, away.Count);
        said = $"{came} added or replaced, {went} taken away. The program was checked again.";
        (added, why) = ([], "");
        away.Clear();
        await Load();
    }
}
