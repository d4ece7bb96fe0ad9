using System.Globalization;
using System.Text;
using System.Text.Json;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Web.Api;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Floor;

/// <summary>The prove-out runner, its plain posts, and the heartbeat that tells a tablet whether it is heard.</summary>
static class ProveOutAtTablet
{
    const int SavedProgramMost = 256 << 20;

    public static void Map(RouteGroupBuilder floor)
    {
        floor.MapGet("/prove-outs/{id:guid}", Show);
        floor.MapPost("/prove-outs/{id:guid}/acts", Take);
        floor.MapPost("/prove-outs/{id:guid}/saved-program", Compare);
        floor.MapPost("/prove-outs/{id:guid}/edited-program", TakeEdited);
        floor.MapGet("/heartbeat", Beat);
    }

    static Task<IResult> Show(
        HttpContext http,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id,
        string? step,
        string? after
    ) => Page(http, reader, databases, time, id, step, null, after);

    internal static async Task<IResult> Page(
        HttpContext http,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id,
        string? step,
        Refusal? refused,
        string? after = null
    )
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        await using var db = await databases.CreateDbContextAsync();
        if (await reader.Open(db, id) is not { } open)
            return Results.NotFound();
        var clock = await ShopClock.Of(db, time);
        return FloorEndpoints.Page<ProveOutPage>(
            new()
            {
                [nameof(ProveOutPage.Of)] = open.ProveOut,
                [nameof(ProveOutPage.Banner)] = FloorWords.BannerOf(open, clock),
                [nameof(ProveOutPage.By)] = by,
                [nameof(ProveOutPage.Lead)] = TakeOverLead.For(open.ProveOut, by, time.GetUtcNow()),
                [nameof(ProveOutPage.Back)] = ComingBack.For(open.ProveOut, by, time.GetUtcNow()),
                [nameof(ProveOutPage.Asked)] = step,
                [nameof(ProveOutPage.After)] = after,
                [nameof(ProveOutPage.Refused)] = refused?.Reasons,
                [nameof(ProveOutPage.LastDone)] = FloorWords.LastDone(open, clock),
                [nameof(ProveOutPage.Clock)] = (Func<DateTimeOffset, string>)clock.When,
            },
            refused is null ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity
        );
    }

    static async Task<IResult> Take(
        HttpContext http,
        TakeAct take,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        ILoggerFactory log,
        Guid id
    )
    {
        if (http.User.Actor() is null)
            return FloorEndpoints.SignInFirst(http);
        var form = await http.Request.ReadFormAsync();
        Act act;
        try
        {
            act = EntryJson.ReadAct(Encoding.UTF8.GetBytes(ActForm.Read(form).ToJsonString()));
        }
        catch (Exception e) when (e is FormatException or JsonException)
        {
            log.CreateLogger(nameof(ProveOutAtTablet))
                .LogWarning("A page at the machine sent no act: {Found}", e.Message);
            var unread = new Refusal(RefusedBecause.NotAcceptable, Problems.NothingRead);
            return await Page(http, reader, databases, time, id, null, unread);
        }
        var refused = (await take.Run(Asked(http, id, form, act))).Refused;
        if (refused is not null)
            return await Page(http, reader, databases, time, id, act.About, refused);
        return Results.LocalRedirect(
            form["then"] is [{ Length: > 0 } then] ? FloorEndpoints.Back(then) : AfterStep(id, act.About)
        );
    }

    /// <summary>The program as the control saved it: compared without what saving changes.</summary>
    static async Task<IResult> Compare(
        HttpContext http,
        TakeAct take,
        SavedProgram saved,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id
    )
    {
        if (http.User.Actor() is null)
            return FloorEndpoints.SignInFirst(http);
        var form = await http.Request.ReadFormAsync();
        if (form.Files.GetFile("program") is not { Length: > 0 and <= SavedProgramMost } file)
        {
            var none = new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In(
                    "No program came with this, or one larger than 256 MiB. Choose the file that the control wrote."
                )
            );
            return await Page(http, reader, databases, time, id, form["step"], none);
        }
        using var bytes = new MemoryStream();
        await file.CopyToAsync(bytes);
        var act = await saved.Compared(id, form["step"].ToString(), bytes.ToArray());
        var refused = (await take.Run(Asked(http, id, form, act))).Refused;
        return refused is null
            ? Results.LocalRedirect(AfterStep(id, act.Step))
            : await Page(http, reader, databases, time, id, act.Step, refused);
    }

    /// <summary>The program as it was edited at the control takes the place of the one that was checked.</summary>
    static async Task<IResult> TakeEdited(
        HttpContext http,
        SavedProgram saved,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id
    )
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        var form = await http.Request.ReadFormAsync();
        using var bytes = new MemoryStream();
        if (form.Files.GetFile("program") is { Length: > 0 and <= SavedProgramMost } file)
            await file.CopyToAsync(bytes);
        var refused = await saved.Run(by, http.User.Place(), id, bytes.ToArray(), form["why"].ToString());
        return refused is null
            ? Results.LocalRedirect(AfterStep(id, null))
            : await Page(http, reader, databases, time, id, null, refused);
    }

    internal static string AfterStep(Guid proveOut, string? step) =>
        $"/floor/prove-outs/{proveOut}" + (step is null ? "" : $"?after={Uri.EscapeDataString(step)}");

    internal static ActAsked Asked(HttpContext http, Guid proveOut, IFormCollection form, Act act) =>
        new(
            proveOut,
            form["key"].ToString(),
            long.TryParse(form["basedOn"], NumberStyles.None, CultureInfo.InvariantCulture, out var seen) ? seen : 0,
            act,
            http.User.Actor()!,
            http.User.Place(),
            http.User.SignedInByPassword(),
            form["pin"]
        );

    /// <summary>Who the server takes this tablet for, and the newest entry of the prove-out that it shows.</summary>
    static async Task<IResult> Beat(
        HttpContext http,
        IDbContextFactory<HandwheelDb> databases,
        FloorFiles files,
        string? proveOut
    )
    {
        http.Response.Headers.CacheControl = "no-store";
        var number = 0L;
        if (Guid.TryParse(proveOut, out var id) && http.User.Actor() is not null)
        {
            await using var db = await databases.CreateDbContextAsync();
            number = await db.ProveOuts.Where(p => p.Id == id).Select(p => p.LastNumber).SingleOrDefaultAsync();
        }
        return Results.Json(
            new
            {
                app = "handwheel",
                person = http.User.Actor()?.Person.ToString() ?? "",
                number,
                version = files.Version,
            }
        );
    }
}
