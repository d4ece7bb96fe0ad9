using CsCheck;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features;

namespace Handwheel.Web.Tests.Data;

/// <summary>
/// Keys used again, for the same and for something else, at once and after a restart: each key is one entry and one answer, byte for byte
/// (draft-ietf-httpapi-idempotency-key-header-07).
/// </summary>
public sealed class IdempotencyProperty(PostgresCluster cluster)
{
    const int Keys = 5;
    const int Payloads = 3;

    static readonly Gen<(int Key, int Payload, int AtOnce, bool Restart)> Ask = Gen.Select(
        Gen.Int[0, Keys - 1],
        Gen.Frequency((3, Gen.Const(0)), (1, Gen.Int[1, Payloads - 1])),
        Gen.Int[1, 4],
        Gen.Frequency((9, Gen.Const(false)), (1, Gen.Const(true)))
    );

    [Theory, EachDatabase]
    public async Task A_key_is_one_entry_and_one_answer_however_it_is_used(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var run = 0;
        await Ask.Array[1, 12]
            .SampleAsync(
                async asks =>
                {
                    var name = $"run {run++} key ";
                    var before = (await job.Open()).ProveOut.Last;
                    var first = new Dictionary<int, (int Payload, string Answer)>();
                    foreach (var (key, payload, atOnce, restart) in asks)
                    {
                        if (restart)
                            await shop.Restart();
                        var answers = await Task.WhenAll(
                            Enumerable
                                .Range(0, atOnce)
                                .Select(_ => Task.Run(() => job.Take(new Note($"note {payload}"), before, name + key)))
                        );
                        foreach (var answer in answers)
                            Check(first, key, payload, answer);
                    }
                    Assert.Equal(before + first.Count, (await job.Open()).ProveOut.Last);
                },
                iter: 25,
                threads: 1
            );
    }

    static void Check(Dictionary<int, (int Payload, string Answer)> first, int key, int payload, Answer<string> answer)
    {
        if (answer.Refused is { Because: RefusedBecause.StillRunning })
            return;
        if (first.TryGetValue(key, out var known) && known.Payload != payload)
        {
            Assert.Equal(RefusedBecause.NotAcceptable, answer.Refused?.Because);
            Assert.Contains("used for something else", answer.Refused!.ToString(), StringComparison.Ordinal);
            return;
        }
        Assert.Equal(first.TryAdd(key, (payload, answer.Must)) ? answer.Must : first[key].Answer, answer.Must);
    }
}
