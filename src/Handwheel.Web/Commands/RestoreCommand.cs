using System.CommandLine;
using Handwheel.Data;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Commands;

/// <summary>
/// <c>handwheel restore FILE</c>: puts a backup in the place of the shop's database, after looking it through. What was
/// there is kept beside it.
/// </summary>
static class RestoreCommand
{
    public static Command Make(Screen screen)
    {
        var file = new Argument<string>("FILE") { Description = "A file that handwheel backup wrote." };
        var shop = ShopOption.Make();
        var command = new Command("restore") { file, shop };
        command.SetAction(
            async (parsed, _) =>
                await Run(screen, parsed.GetRequiredValue(file), ShopOption.OnSqlite(parsed.GetValue(shop), "restore"))
        );
        return command;
    }

    static async Task<int> Run(Screen screen, string file, ShopDatabase shop)
    {
        try
        {
            var facts = await BackupExamination.Run(Path.GetFullPath(file));
            var aside = SqliteBackup.Restore(Path.GetFullPath(file), shop.Folder, TimeProvider.System.GetUtcNow());
            await screen.Out.WriteLineAsync($"Restored into {shop.Folder.Path}: {BackupCommand.InWords(facts)}.");
            if (aside is not null)
                await screen.Out.WriteLineAsync($"What was there is kept in {aside}.");
            return CommandLine.Done;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or BadBackup or ShopCannotStart)
        {
            throw new InputFault(e.Message, e);
        }
    }
}
