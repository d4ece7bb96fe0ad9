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
        var known = HandoffFacts.Of(open.ProveOut, open.Entries, clock.At);
        var recorded = await InRecord(reader, db, id, clock) ?? known;
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

    /// <summary>What is known, as the record says it: in English; null: nothing is under way any more.</summary>
    static async Task<IReadOnlyDictionary<string, string>?> InRecord(
        ProveOutReader reader,
        HandwheelDb db,
        Guid machine,
        ShopClock clock
    )
    {
        using var english = Said.Speak(Language.English);
        return await reader.UnderWay(db, machine) is { } open
            ? HandoffFacts.Of(open.ProveOut, open.Entries, clock.At)
            : null;
    }

    /// <summary>As it would be if the person had nothing to add.</summary>
    static Dictionary<string, string> Filled(IReadOnlyDictionary<string, string> known) =>
        Handoff.Headings.ToDictionary(
            h => h.Key,
            h => known.GetValueOrDefault(h.Key) is { Length: > 0 } words ? words : HandoffFacts.None
        );
}
