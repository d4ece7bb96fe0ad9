using System.CommandLine;
using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Commands;

/// <summary><c>handwheel backup FILE</c>: a complete copy of the shop's database, looked through before it counts. Safe while the app serves.</summary>
static class BackupCommand
{
    public static Command Make(Screen screen)
    {
        var file = new Argument<string>("FILE") { Description = "Where the copy goes; it must not exist yet." };
        var shop = ShopOption.Make();
        var command = new Command("backup") { file, shop };
        command.SetAction(
            async (parsed, _) =>
                await Run(screen, parsed.GetRequiredValue(file), ShopOption.OnSqlite(parsed.GetValue(shop), "backup"))
        );
        return command;
    }

    static async Task<int> Run(Screen screen, string file, ShopDatabase shop)
    {
        if (!File.Exists(shop.Folder.Database))
            throw new InputFault($"{shop.Folder.Path}: found no shop, expected a folder with handwheel.db (--shop)");
        var copy = Path.GetFullPath(file);
        try
        {
            SqliteBackup.Copy(shop.Folder.Database, copy);
            var facts = await BackupExamination.Run(copy);
            await screen.Out.WriteLineAsync(
                $"{copy}: {InWords(facts)}. Every page, file and entry was looked through."
            );
            await screen.Out.WriteLineAsync(
                $"The keys that sign records, and the root that tablets trust, are not in it: keep a copy of {shop.Folder.Keys} in a safe place."
            );
            return CommandLine.Done;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or BadBackup)
        {
            throw new InputFault(e.Message, e);
        }
    }

    internal static string InWords(BackupFacts facts)
    {
        var newest = facts.NewestEntry is { } at
            ? "the newest entry of " + at.ToString("yyyy-MM-dd HH:mm 'UTC'", CultureInfo.InvariantCulture)
            : "no entry yet";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{facts.People} people, {facts.Jobs} jobs, {facts.ProveOuts} prove-outs, {facts.Entries} entries, {facts.Files} files; {newest}"
        );
    }
}
