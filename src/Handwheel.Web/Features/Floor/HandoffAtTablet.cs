using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Floor;

/// <summary>Handing a half-set machine over and taking it over. The acts themselves are taken like any other.</summary>
static class HandoffAtTablet
{
    public static void Map(RouteGroupBuilder floor) => floor.MapGet("/machines/{id:guid}/handoff", Show);

    static async Task<IResult> Show(
        HttpContext http,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id,
        string? step,
        string? after
    )
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        await using var db = await databases.CreateDbContextAsync();
        if (await reader.UnderWay(db, id) is not { } open)
            return Results.LocalRedirect($"/floor/machines/{id}");
        var clock = await ShopClock.Of(db, time);
        var banner = FloorWords.BannerOf(open, clock);
        var known = await Known(reader, db, open, clock, Said.Language);
        var recorded =
            Said.Language is Language.English ? known : await Known(reader, db, open, clock, Language.English);
        return open.ProveOut is { Standing: Standing.HandoffOpen, Handoff: { } handoff }
            ? FloorEndpoints.Page<HandoffTakePage>(
                new()
                {
                    [nameof(HandoffTakePage.Banner)] = banner,
                    [nameof(HandoffTakePage.Open)] = handoff,
                    [nameof(HandoffTakePage.Steps)] = open.ProveOut.Steps,
                    [nameof(HandoffTakePage.WhyNot)] =
                        (Func<Act, IReadOnlyList<string>>)(act => open.ProveOut.WhyNot(act, by)),
                    [nameof(HandoffTakePage.InWords)] = HandoffFacts.InWords(recorded, known),
                    [nameof(HandoffTakePage.Clock)] = (Func<DateTimeOffset, string>)clock.When,
                    [nameof(HandoffTakePage.Asked)] = step,
                    [nameof(HandoffTakePage.After)] = after,
                }
            )
            : FloorEndpoints.Page<HandoffGivePage>(
                new()
                {
                    [nameof(HandoffGivePage.Banner)] = banner,
                    [nameof(HandoffGivePage.Known)] = known,
                    [nameof(HandoffGivePage.KnownInRecord)] = recorded,
                    [nameof(HandoffGivePage.WhyNot)] = open.ProveOut.WhyNot(new HandedOver(Filled(recorded)), by),
                }
            );
    }

    /// <summary>What is known now or, when a handoff is open, what was known when it was given; as a language says it.</summary>
    static async Task<IReadOnlyDictionary<string, string>> Known(
        ProveOutReader reader,
        HandwheelDb db,
        OpenedProveOut open,
        ShopClock clock,
        Language language
    )
    {
        using var spoken = Said.Speak(language);
        var given =
            open.ProveOut.Standing is Standing.HandoffOpen
                ? open.Entries.ToList().FindLastIndex(e => e.Act is HandedOver)
                : -1;
        var entries = given < 0 ? open.Entries : [.. open.Entries.Take(given)];
        var ledger = await ProveOutReader.LedgerOf(db, open.Log.MachineId);
        var then = ProveOut.Replay(await reader.Plan(db, open.Log.PlanSha256), entries, ledger);
        return HandoffFacts.Of(then, entries, clock.At);
    }

    /// <summary>As it would be if the person had nothing to add.</summary>
    static Dictionary<string, string> Filled(IReadOnlyDictionary<string, string> known) =>
        Handoff.Headings.ToDictionary(
            h => h.Key,
            h => known.GetValueOrDefault(h.Key) is { Length: > 0 } words ? words : HandoffFacts.None
        );
}
