using System.CommandLine;
using Handwheel.Data;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Demo;
using Handwheel.Web.Hosting;
using Handwheel.Web.Serving;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Commands;

/// <summary>
/// <c>handwheel demo</c>: makes the demo shop in a folder of its own, unless it is there already, and serves it.
/// </summary>
static class DemoCommand
{
    const string DefaultFolder = "demo-shop";

    public static Command Make(Screen screen)
    {
        var folder = new Option<string>("--shop")
        {
            Description = $"Where the demo shop is kept (else the folder {DefaultFolder} where the command is typed).",
            HelpName = "FOLDER",
        };
        var urls = new Option<string>("--urls")
        {
            Description = $"Where to listen (else {Server.DefaultAddress}).",
            HelpName = "URL",
        };
        var only = new Option<bool>("--only-make") { Description = "Make the shop and stop, without serving it." };
        var command = new Command("demo") { folder, urls, only };
        command.SetAction(
            async (parsed, ct) =>
            {
                var place = Path.GetFullPath(parsed.GetValue(folder) ?? DefaultFolder);
                await MakeShop(screen, place, ct);
                await SayWho(screen);
                return parsed.GetValue(only) ? CommandLine.Done : await Serve(place, parsed.GetValue(urls));
            }
        );
        return command;
    }

    static async Task<int> Serve(string folder, string? urls)
    {
        string[] args = ["--shop", folder];
        return await Server.Run(urls is null ? args : [.. args, "--urls", urls]);
    }

    static async Task MakeShop(Screen screen, string folder, CancellationToken ct)
    {
        var clock = new DemoClock(TimeProvider.System.GetUtcNow());
        var services = new ServiceCollection();
        services.AddLogging();
        services.AddSingleton<TimeProvider>(clock).AddSingleton(clock);
        services.AddHandwheelShop(new ShopDatabase(new ShopFolder(folder), Postgres: null));
        services.AddSingleton<DemoWalk>().AddSingleton<MakeDemoShop>();
        await using var shop = services.BuildServiceProvider();
        try
        {
            await shop.GetRequiredService<OpenShop>().Run(ct);
        }
        catch (ShopCannotStart e)
        {
            throw new InputFault(e.Message, e);
        }
        await using (var db = await shop.GetRequiredService<IDbContextFactory<HandwheelDb>>().CreateDbContextAsync(ct))
        {
            if (await db.People.AnyAsync(ct))
            {
                await screen.Out.WriteLineAsync($"The demo shop is in {folder}");
                return;
            }
        }
        await screen.Out.WriteLineAsync($"Making the demo shop in {folder}");
        await screen.Out.FlushAsync(ct);
        await shop.GetRequiredService<MakeDemoShop>().Run(TimeProvider.System.GetUtcNow());
    }

    static async Task SayWho(Screen screen)
    {
        await screen.Out.WriteLineAsync("Sign in as (demo only: everybody can read these)");
        foreach (var person in DemoPeople.All)
            await screen.Out.WriteLineAsync(
                $"  {person.Name, -14} PIN {person.Pin}{(person.Password is { } word ? $"   at the desk: {word}" : "")}"
            );
        await screen.Out.FlushAsync();
    }
}
