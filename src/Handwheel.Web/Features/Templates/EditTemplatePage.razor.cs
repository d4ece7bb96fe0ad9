using Handwheel.Data;
using Handwheel.Jobs.Setups;
using Handwheel.Jobs.Templates;
using Handwheel.Nc;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Templates;

public sealed partial class EditTemplatePage
{
    TemplateForm? form;
    string name = "";
    long basedOn;
    string why = "";
    string? said;
    bool loaded;
    List<string> refusals = [];

    /// <summary>Null: for every machine.</summary>
    [Parameter]
    public Guid? Machine { get; set; }

    [CascadingParameter]
    Task<AuthenticationState> SignedIn { get; set; } = null!;

    [Inject]
    TemplateReader Templates { get; set; } = null!;

    [Inject]
    ChangeTemplate Change { get; set; } = null!;

    [Inject]
    IDbContextFactory<HandwheelDb> Databases { get; set; } = null!;

    protected override Task OnParametersSetAsync() => Load();

    async Task Load()
    {
        await using var db = await Databases.CreateDbContextAsync();
        var machine = Machine is { } id ? await db.Machines.AsNoTracking().SingleOrDefaultAsync(m => m.Id == id) : null;
        loaded = true;
        if (Machine is not null && machine is null)
            return;
        name = machine?.Name ?? TemplateReader.EveryMachine;
        var inForce = await Templates.InForce(Machine);
        basedOn = inForce?.Version.Number ?? 0;
        form = new(ProvingTemplateFile.Write(inForce?.Template ?? ProvingTemplate.Nothing(Units.Millimetre)));
    }

    void Fill(IReadOnlyList<Upload> files)
    {
        (refusals, said) = ([], null);
        try
        {
            form = new(ProvingTemplateFile.Write(ProvingTemplateFile.Read(files[0].Bytes, files[0].Name)));
            said = $"The form holds {files[0].Name} now. Look it over, then save.";
        }
        catch (InputFault fault)
        {
            refusals = [fault.Message];
        }
    }

    async Task Save()
    {
        (refusals, said) = ([], null);
        var template = form!.Write(refusals);
        if (template is null || (await SignedIn).User.Actor() is not { } by)
            return;
        var refused = await Change.Run(by, Machine, basedOn, template, why);
        refusals = [.. refused?.Reasons ?? []];
        if (refused is not null)
            return;
        why = "";
        await Load();
        said = "Saved: prove-outs begun from now on go by it.";
    }
}
