using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.Features.Floor;

/// <summary>What a tablet may record without the server, over a whole prove-out.</summary>
public sealed class KeptStepsTests
{
    static readonly Place Tablet = new(null, "tablet by Mill 9", "test");

    /// <summary>
    /// At every stage all that is offered is entered on one page, as on a tablet in a dead corner of the shop, and sent later: the server takes
    /// every one of them. Nothing that is signed is offered, and nothing behind a reading that nobody has judged yet.
    /// </summary>
    [Fact]
    public async Task What_is_offered_is_taken_when_it_comes()
    {
        await using var shop = new JourneyShop();
        await shop.Open();
        var proveOut = await shop.WalkTo("ready.program");
        var rounds = new List<IReadOnlyList<string>>();
        var afterTicks = 0;
        while ((await shop.Opened(proveOut)).ProveOut is { Phase: not Phase.Release } seen)
        {
            var offered = KeptSteps.Of([.. seen.Steps.Where(s => s.Phase is not Phase.Parking)]);
            rounds.Add([.. offered.Select(s => s.Id)]);
            afterTicks += offered.Count(s => s.OnlyAfter.Count > 0);
            Assert.DoesNotContain(
                offered,
                s => s.Takes is Takes.Signature or Takes.OtherWay or Takes.SupervisorsReason
            );
            foreach (var step in offered)
            {
                var kept = new KeptOnTablet(DateTimeOffset.UnixEpoch, 60);
                var asked = new ActAsked(
                    proveOut,
                    Guid.NewGuid().ToString(),
                    seen.Last,
                    JourneyShop.Answer(step),
                    shop.DaySetter,
                    Tablet,
                    Kept: kept
                );
                var answer = await shop.Get<TakeAct>().Run(asked);
                Assert.True(answer.Refused is null, $"{step.Id}: {answer.Refused}");
            }
            if (offered.Count == 0)
                await shop.Do(proveOut, JourneyShop.Answer(seen.Steps.First(IsSignature)));
        }

        Assert.True(afterTicks > 0, "nothing was offered that waits for a tick");
        Assert.Contains(rounds, r => r.Count > 10);
        Assert.Contains(rounds, r => r.Contains("restore.reset") && r.Contains("restore.offset.G54.z"));
        Assert.DoesNotContain(
            rounds,
            r => r.Contains("first-cut.tool.1.machine-z") && r.Contains("first-cut.tool.1.entry")
        );
        Assert.DoesNotContain(
            rounds,
            r => r.Contains("first-cut.tool.1.machine-z") && r.Contains("first-cut.tool.2.machine-z")
        );
        Assert.DoesNotContain(
            rounds,
            r => r.Contains("air-cut.tool.1.machine-z") && r.Contains("air-cut.tool.1.gauge")
        );
        Assert.All(
            (await shop.Opened(proveOut)).Entries.Where(e => e.Act is Ticked or ReadingTyped && e.Kept is null),
            e => Assert.True(e.Number < 3, $"{e.Act.About} came without the mark")
        );
    }

    static bool IsSignature(StepView step) => step is { Takes: Takes.Signature, WaitsFor.Count: 0 } && !step.Settled();
}
