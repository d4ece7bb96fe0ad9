using System.Globalization;
using Handwheel.Data;
using Handwheel.Nc;
using Handwheel.Web.Features.ProveOuts;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;
using Hazard = Handwheel.Jobs.Proving.Hazard;
using LockedOut = Handwheel.Jobs.Proving.LockedOut;

namespace Handwheel.Web.Features.Jobs;

public sealed partial class JobPage
{
    OpenedJob? open;
    bool loaded;
    ProgramListing? listing;
    Upload? shown;
    IReadOnlyList<ProveOutLog> proveOuts = [];
    IReadOnlyList<Hazard> hazards = [];
    LockedOut? lockedOut;
    ProvenProgram? proven;
    string? whyNotAgain;
    TimeZoneInfo zone = TimeZoneInfo.Utc;
    IDisposable? listening;

    /// <summary>The shop's running number of the job.</summary>
    [Parameter]
    public int Number { get; set; }

    /// <summary>The line of the program to show; anything but a number shows the first.</summary>
    [SupplyParameterFromQuery(Name = "line")]
    public string? AskedLine { get; set; }

    /// <summary>The subprogram's file to show; anything else shows the main program.</summary>
    [SupplyParameterFromQuery(Name = "file")]
    public string? AskedFile { get; set; }

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    [Inject]
    JobReader Jobs { get; set; } = null!;

    [Inject]
    ProveOutReader ProveOuts { get; set; } = null!;

    [Inject]
    ShopNews News { get; set; } = null!;

    Units Units => open!.Setup.Units;

    protected override void OnInitialized()
    {
        if (RendererInfo.IsInteractive)
            listening = News.Listen(news =>
            {
                if (news.Job is null || news.Job == open?.Job.Id)
                    _ = InvokeAsync(Load);
            });
    }

    protected override async Task OnParametersSetAsync()
    {
        if (open?.Job.Number != Number)
            await Load();
        else
            ShowFile();
    }

    void ShowFile()
    {
        var asked = open!.Subprograms.FirstOrDefault(f => f.Name == AskedFile) ?? open.Program;
        if (ReferenceEquals(asked, shown))
            return;
        shown = asked;
        listing = new(asked.Bytes);
    }

    async Task Load()
    {
        await using var db = await Databases.CreateDbContextAsync();
        var found = await Jobs.OpenNumber(Number);
        if (found is not null)
        {
            proveOuts = await db
                .ProveOuts.AsNoTracking()
                .Where(p => p.JobId == found.Job.Id)
                .OrderByDescending(p => p.StartedAt)
                .ToListAsync();
            var machine = await ProveOuts.StateOf(db, found.Machine.Id);
            (hazards, lockedOut) = (machine.Ledger.Hazards, machine.LockedOut);
            proven = await ProvenProgram.Of(db, ProveOuts, found);
            whyNotAgain = await Task.Run(() => ProvenProgram.WhyNotAgain(proven, found));
            zone = TimeZoneInfo.FindSystemTimeZoneById((await db.Shop()).Zone);
        }
        open = found;
        loaded = true;
        if (found is not null)
            ShowFile();
        StateHasChanged();
    }

    int Line => int.TryParse(AskedLine, NumberStyles.None, CultureInfo.InvariantCulture, out var line) ? line : 0;

    string LineLink(int line) => $"/jobs/{Number}?line={line}#L{line}";

    string FileLink(string file, int line) =>
        $"/jobs/{Number}?file={Uri.EscapeDataString(file)}&line={line.ToString(CultureInfo.InvariantCulture)}#L{line}";

    /// <summary>Null: the main program.</summary>
    string? FileShown => ReferenceEquals(shown, open!.Program) ? null : shown!.Name;

    string ShownLink(int line) => FileShown is { } file ? FileLink(file, line) : LineLink(line);

    string Here(string part) => $"/jobs/{Number}#{part}";

    public void Dispose() => listening?.Dispose();
}
