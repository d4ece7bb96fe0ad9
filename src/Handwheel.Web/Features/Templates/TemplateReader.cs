using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Templates;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Templates;

/// <summary>The shop's templates: the newest version for every machine, and the newest of each machine.</summary>
public sealed class TemplateReader(IDbContextFactory<HandwheelDb> databases)
{
    /// <summary>What <see cref="TemplateVersion.For"/> says of the one that is for all.</summary>
    public const string EveryMachine = "every machine";

    /// <summary>The version in force for a machine alone, or (null) for every machine; null: none.</summary>
    public async Task<(ProvingTemplate Template, ProvingTemplateVersion Version)?> InForce(Guid? machine)
    {
        await using var db = await databases.CreateDbContextAsync();
        return await Newest(db, machine) is { } version ? (await Read(db, version), version) : null;
    }

    /// <summary>The rules that the next prove-out on a machine goes by.</summary>
    public async Task<ShopRulesForProving> RulesFor(Machine machine)
    {
        await using var db = await databases.CreateDbContextAsync();
        return TemplatesInForce.Rules(
            await Numbered(db, null, EveryMachine),
            await Numbered(db, machine.Id, machine.Name)
        );
    }

    /// <summary>A version by its number; null: there never was one.</summary>
    public async Task<(ProvingTemplate Template, ProvingTemplateVersion Version)?> Find(long number)
    {
        await using var db = await databases.CreateDbContextAsync();
        return await db.ProvingTemplates.AsNoTracking().SingleOrDefaultAsync(v => v.Number == number) is { } version
            ? (await Read(db, version), version)
            : null;
    }

    internal static Task<ProvingTemplateVersion?> Newest(HandwheelDb db, Guid? machine) =>
        db
            .ProvingTemplates.AsNoTracking()
            .Where(v => v.MachineId == machine)
            .OrderByDescending(v => v.Number)
            .FirstOrDefaultAsync();

    static async Task<NumberedTemplate?> Numbered(HandwheelDb db, Guid? machine, string name) =>
        await Newest(db, machine) is { } version
            ? new(new(name, version.Number, version.Sha256), await Read(db, version))
            : null;

    static async Task<ProvingTemplate> Read(HandwheelDb db, ProvingTemplateVersion version)
    {
        var file = await db.Files.AsNoTracking().SingleAsync(f => f.Sha256 == version.Sha256);
        return ProvingTemplateFile.Read(file.Content, "the shop's rules, version " + version.Number);
    }
}
