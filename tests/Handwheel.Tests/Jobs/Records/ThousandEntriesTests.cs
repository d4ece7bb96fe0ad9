using System.Text;
using System.Text.Json.Nodes;
using CsCheck;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Tests.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Records;

/// <summary>
/// A record of 1,000 entries with any byte flipped, entries left out, put in, swapped or cut off: found, and the first bad entry
/// named. HANDWHEEL_EVERY_BYTE=1 flips every byte; otherwise a seeded sample.
/// </summary>
public class ThousandEntriesTests
{
    const int Entries = 1_000;
    const int Sample = 250;
    static readonly DateTimeOffset Made = new(2026, 3, 2, 16, 0, 0, TimeSpan.Zero);
    static readonly Lazy<byte[]> Record = new(Make);

    static byte[] Make()
    {
        var plan = SmallShop.Plan();
        var entries = new List<Entry>();
        for (var number = 1; number <= Entries; number++)
            entries.Add(
                new(
                    number,
                    SmallShop.Morning.AddSeconds(number * 20),
                    "Europe/Vienna",
                    number % 3 == 0 ? SmallShop.NightSetter : SmallShop.Setter,
                    "tablet 1",
                    number - 1,
                    number == 1
                        ? new Begun(plan.Digest)
                        : new Note($"looked at chip {number}, \"fine\" says the setter")
                )
            );
        var proveOut = ProveOut.Replay(plan, entries, Ledger.Empty);
        Assert.Empty(proveOut.Unexplained);
        var root = ShopKeys.MakeRoot("Our shop", Made.AddYears(-1));
        return RecordDocument.Make(
            proveOut,
            [.. entries.Select(EntryJson.Write)],
            new("Our shop", "bracket, op 10", "bracket", "10", "B", "0 stop"),
            Made,
            ShopKeys.Signer(ShopKeys.MakeLeaf(root, "Handwheel server 1", Made.AddMonths(-1)), root.Certificate)
        );
    }

    /// <summary>First and last byte of each entry, body and hash.</summary>
    static List<(int From, int To)> Places(byte[] record)
    {
        var places = new List<(int From, int To)>();
        var at = record.AsSpan().IndexOf("\"entries\":["u8);
        for (var i = 0; i < Entries; i++)
        {
            var from = at + record.AsSpan(at).IndexOf("{\"body\":"u8);
            var to = from + record.AsSpan(from).IndexOf(",\"hash\":\""u8) + 8 + 65;
            places.Add((from, to));
            at = to;
        }
        return places;
    }

    /// <summary>The same sample each time: every stretch of the record has its share.</summary>
    static List<int> Chosen(int length)
    {
        var chance = new Random(1_000);
        return Enumerable.Range(0, Sample).Select(i => (int)((i + chance.NextDouble()) * length / Sample)).ToList();
    }

    [Fact]
    public void A_flipped_byte_is_found_and_the_first_bad_entry_named()
    {
        var record = Record.Value;
        Assert.True(RecordVerifier.Verify(record, null).Intact);
        var places = Places(record);
        var every = Environment.GetEnvironmentVariable("HANDWHEEL_EVERY_BYTE") == "1";
        var bytes = every ? Enumerable.Range(0, record.Length) : Chosen(record.Length);
        Parallel.ForEach(
            bytes,
            () => (byte[])record.Clone(),
            (at, _, changed) =>
            {
                changed[at] ^= (byte)(1 << (at % 8));
                var result = RecordVerifier.Verify(changed, null);
                changed[at] = record[at];
                Assert.False(result.Intact, $"byte {at} flipped and not found");
                var entry = places.FindIndex(p => p.From <= at && at <= p.To);
                if (entry >= 0)
                    Assert.True(
                        result.FirstBrokenEntry == entry + 1,
                        $"byte {at} is of entry {entry + 1}, said {result.FirstBrokenEntry}: {result.Fault}"
                    );
                return changed;
            },
            _ => { }
        );
    }

    [Fact]
    public void Entries_left_out_put_in_swapped_or_cut_off_are_found_and_named() =>
        Gen.Int[0, 4]
            .Select(Gen.Int[1, Entries - 1])
            .Sample(
                (what, at) =>
                {
                    var record = JsonNode.Parse(Record.Value)!;
                    var entries = (JsonArray)record["entries"]!;
                    long first = at + 1;
                    switch (what)
                    {
                        case 0:
                            entries.RemoveAt(at - 1);
                            first = at;
                            break;
                        case 1:
                            entries.Insert(at, entries[at - 1]!.DeepClone());
                            break;
                        case 2:
                            var (a, b) = (entries[at - 1]!.DeepClone(), entries[at]!.DeepClone());
                            (entries[at - 1], entries[at]) = (b, a);
                            first = at;
                            break;
                        default:
                            while (entries.Count > at)
                                entries.RemoveAt(entries.Count - 1);
                            break;
                    }
                    var changed = CanonicalJson.Of(Encoding.UTF8.GetBytes(record.ToJsonString()));
                    var result = RecordVerifier.Verify(changed, null);
                    Assert.False(result.Intact);
                    Assert.Equal(first, result.FirstBrokenEntry);
                },
                iter: 40
            );

    [Fact]
    public void A_record_cut_off_anywhere_is_found() =>
        Gen.Int[0, Record.Value.Length - 1]
            .Sample(
                length => Assert.False(RecordVerifier.Verify(Record.Value.AsMemory(0, length), null).Intact),
                iter: 40
            );
}
