using Handwheel.Data;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Setups;
using Handwheel.Web.Sheets.Pictures;
using Handwheel.Web.Shell;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Jobs;

public partial class SetupPage
{
    /// <summary>Following a larger program each time somebody stops typing would hold up the others.</summary>
    const int PathBytesMost = 2_000_000;

    static readonly ViewFrom[] Drawn = [ViewFrom.Top, ViewFrom.Front, ViewFrom.Travel];

    OpenedJob? open;
    SetupForm? form;
    bool loaded;
    bool proveOutUnderWay;
    string why = "";
    string? said;
    List<string> refusals = [];
    IReadOnlyList<string> toFill = [];
    IReadOnlyList<ToolSeen> seen = [];

    [Parameter]
    public int Number { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    [Inject]
    JobReader Jobs { get; set; } = null!;

    [Inject]
    UpdateSetup UpdateSetup { get; set; } = null!;

    [Inject]
    NavigationManager Where { get; set; } = null!;

    protected override async Task OnParametersSetAsync()
    {
        await Load();
        if (open is null)
            return;
        form = SetupForm.From(open.SetupFile.Bytes);
        if (!open.Job.SetupIsDraft)
            return;
        var draft = SetupFromProgram.Draft(open.Program.Bytes, open.Setup.Machine, open.Setup.Units, open.RunOptions());
        (toFill, seen) = (draft.ToFill, draft.Tools);
    }

    async Task Load()
    {
        await using var db = await Databases.CreateDbContextAsync();
        open = await Jobs.OpenNumber(Number);
        proveOutUnderWay =
            open is not null && await db.ProveOuts.AnyAsync(p => p.JobId == open.Job.Id && p.End == ProveOutEnd.Open);
        loaded = true;
    }

    void Fill(IReadOnlyList<Upload> files)
    {
        (refusals, said) = ([], null);
        try
        {
            SetupFile.Read(files[0].Bytes, files[0].Name);
            form = SetupForm.From(files[0].Bytes);
            said = $"The form holds {files[0].Name} now. Look it over, then save.";
        }
        catch (InputFault fault)
        {
            refusals = [fault.Message];
        }
    }

    string Here(string part) => $"/jobs/{Number}/setup#{part}";

    bool PathIsDrawn => open!.Program.Bytes.Length <= PathBytesMost;

    string PathHint =>
        PathIsDrawn
            ? "The path is the program's under these values. Nothing is checked or saved before you say so."
            : $"Without the path: the program has {Shown.Size(open!.Program.Bytes.Length)}. Nothing is checked or saved before you say so.";

    IReadOnlyList<TipRun> Path(Setup setup) =>
        PathIsDrawn ? TipPath.Of(open!.Program.Bytes, setup, open.RunOptions()) : [];

    void Looked() => (refusals, said) = ([], "The form holds other values now. Look them over, then save.");

    async Task Save(bool complete)
    {
        (refusals, said) = ([], null);
        var written = form!.Write(refusals);
        var user = (await SignedIn).User;
        if (refusals.Count > 0 || user.Actor() is not { } by)
            return;
        try
        {
            SetupFile.Read(written, "setup.json");
        }
        catch (InputFault fault)
        {
            refusals = [form.InWords(fault)];
            return;
        }
        var file = new Upload("setup.json", written);
        var refused = await UpdateSetup.Run(by, user.Place(), open!.Job.Id, open.Job.Version, file, complete, why);
        refusals = [.. refused?.Reasons ?? []];
        if (refused is not null)
            return;
        if (complete)
        {
            Where.NavigateTo($"/jobs/{Number}");
            return;
        }
        said = "The draft is saved.";
        await Load();
    }
}
