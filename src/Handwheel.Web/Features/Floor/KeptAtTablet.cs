using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Floor;

/// <summary>What a tablet keeps for the time without connection: its files, a page that says so, and the prove-outs it has seen.</summary>
static class KeptAtTablet
{
    public static void Map(RouteGroupBuilder floor)
    {
        floor.MapGet("/files.js", Files);
        floor.MapGet("/no-connection", NoConnection);
        floor.MapGet("/prove-outs/{id:guid}/kept", Show);
    }

    static IResult Files(HttpContext http, FloorFiles files)
    {
        http.Response.Headers.CacheControl = "no-cache";
        return Results.Text(files.Script(), "text/javascript");
    }

    static RazorComponentResult<NoConnectionPage> NoConnection(TimeProvider time) =>
        FloorEndpoints.Page<NoConnectionPage>(new() { [nameof(NoConnectionPage.At)] = time.GetUtcNow() });

    static async Task<IResult> Show(
        HttpContext http,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id
    )
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        await using var db = await databases.CreateDbContextAsync();
        if (await reader.Open(db, id) is not { } open)
            return Results.NotFound();
        var clock = (await ShopClock.Of(db, time)) with { SaysAge = false };
        var now = time.GetUtcNow();
        var headers = http.Response.Headers;
        headers["Handwheel-Person"] = by.Person.ToString();
        headers["Handwheel-At"] = now.ToString("O", CultureInfo.InvariantCulture);
        headers["Handwheel-Title"] = Uri.EscapeDataString($"{open.Machine.Name}: {FloorWords.TitleOf(open.Job)}");
        headers.CacheControl = "no-store";
        return FloorEndpoints.Page<KeptPage>(
            new()
            {
                [nameof(KeptPage.Of)] = open.ProveOut,
                [nameof(KeptPage.Banner)] = FloorWords.BannerOf(open, clock),
                [nameof(KeptPage.By)] = by,
                [nameof(KeptPage.TakesOver)] = TakeOverLead.For(open.ProveOut, by, now) is not null,
                [nameof(KeptPage.Stands)] = Said.In(
                    $"Begun {clock.When(open.Log.StartedAt)}. {FloorWords.StandsAt(open)}"
                ),
                [nameof(KeptPage.LastDone)] = FloorWords.LastDone(open, clock),
                [nameof(KeptPage.At)] = now,
                [nameof(KeptPage.Clock)] = (Func<DateTimeOffset, string>)clock.When,
            }
        );
    }
}
