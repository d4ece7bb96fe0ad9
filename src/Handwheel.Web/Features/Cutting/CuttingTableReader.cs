using System.Collections.Concurrent;
using Handwheel.Data;
using Handwheel.Jobs.CuttingTables;
using Handwheel.Jobs.Setups;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Cutting;

/// <summary>The shop's cutting table: the newest version, or the built-in one where the shop has none of its own.</summary>
public sealed class CuttingTableReader(IDbContextFactory<HandwheelDb> databases)
{
    const int TablesKept = 20;

    readonly ConcurrentDictionary<string, CuttingTable> tables = new(StringComparer.Ordinal);

    /// <summary>The table in force and the version that it is; null: the built-in one.</summary>
    public async Task<(CuttingTable Table, CuttingTableVersion? Version)> InForce()
    {
        await using var db = await databases.CreateDbContextAsync();
        var newest = await db.CuttingTables.AsNoTracking().OrderByDescending(v => v.Number).FirstOrDefaultAsync();
        return newest is null ? (BuiltInCutting.Table, null) : (await Read(db, newest.Sha256), newest);
    }

    /// <summary>A version by its digest, of the shop's or one that came with the app; null: there was never such a version here.</summary>
    public async Task<CuttingTable?> Find(string sha256)
    {
        if (sha256 == BuiltInCutting.Table.Sha256)
            return BuiltInCutting.Table;
        await using var db = await databases.CreateDbContextAsync();
        if (!await db.Files.AnyAsync(f => f.Sha256 == sha256))
            return null;
        try
        {
            return await Read(db, sha256);
        }
        catch (InputFault)
        {
            // some other file of the shop's
            return null;
        }
    }

    async Task<CuttingTable> Read(HandwheelDb db, string sha256)
    {
        if (tables.TryGetValue(sha256, out var known))
            return known;
        if (tables.Count >= TablesKept)
            tables.Clear();
        var file = await db.Files.AsNoTracking().SingleAsync(f => f.Sha256 == sha256);
        return tables[sha256] = CuttingFile.Read(file.Content, "the shop's cutting table");
    }
}
