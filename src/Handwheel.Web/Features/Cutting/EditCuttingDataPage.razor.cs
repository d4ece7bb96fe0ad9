using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;

namespace Handwheel.Web.Features.Cutting;

public sealed partial class EditCuttingDataPage
{
    CuttingForm? form;
    long basedOn;
    string why = "";
    string? said;
    List<string> refusals = [];

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    CuttingTableReader Tables { get; set; } = null!;

    [Inject]
    ChangeCuttingTable Change { get; set; } = null!;

    int Chosen { get; set; }

    CuttingGroup Group => form!.Groups[Math.Clamp(Chosen, 0, form.Groups.Count - 1)];

    protected override Task OnInitializedAsync() => Load();

    async Task Load()
    {
        var (table, version) = await Tables.InForce();
        basedOn = version?.Number ?? 0;
        form = new(CuttingFile.Write(table));
    }

    void AddMaterial()
    {
        form!.AddMaterial();
        Chosen = form.Groups.Count - 2;
    }

    void TakeOut()
    {
        form!.Groups.Remove(Group);
        Chosen = 0;
    }

    void Fill(IReadOnlyList<Upload> files)
    {
        (refusals, said) = ([], null);
        if (files is not [var file, ..])
            return;
        try
        {
            form = new(CuttingFile.Write(CuttingFile.Read(file.Bytes, file.Name)));
            Chosen = 0;
            said = $"The form shows {file.Name} now. Nothing is saved yet.";
        }
        catch (InputFault fault)
        {
            refusals = [fault.Message];
        }
    }

    async Task Save()
    {
        (refusals, said) = ([], null);
        var table = form!.Write(refusals);
        if (table is null || (await SignedIn).User.Actor() is not { } by)
            return;
        var refused = await Change.Run(by, basedOn, table, why);
        refusals = [.. refused?.Reasons ?? []];
        if (refused is not null)
            return;
        why = "";
        await Load();
        said = "Saved: checks made from now on use it.";
    }
}
