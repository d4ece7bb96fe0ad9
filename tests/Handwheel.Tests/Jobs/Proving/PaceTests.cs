using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

public class PaceTests
{
    static ProveOut Timed(ProveOut proveOut, Func<Entry, TimeSpan> after)
    {
        var at = Morning;
        var entries = new List<Entry>();
        foreach (var entry in proveOut.Entries)
        {
            at += after(entry);
            entries.Add(entry with { At = at });
        }
        return ProveOut.Replay(proveOut.Plan, entries, Ledger.Empty);
    }

    static ProveOut Made() => new Walk().Begin().Until("air-cut.raised.G55.z").ProveOut;

    /// <summary>Every entry came in the same second, from a tablet that had kept them.</summary>
    static ProveOut SentAtOnce(int secondsApart)
    {
        var made = Made();
        var entries = made.Entries.Select(e =>
            e with
            {
                At = Morning,
                Kept = new(Morning, (made.Entries.Count - e.Number) * secondsApart),
            }
        );
        return ProveOut.Replay(made.Plan, [.. entries], Ledger.Empty);
    }

    static bool OfTheMachine(Entry entry) =>
        entry.Act.About?.StartsWith("ready.machine.", StringComparison.Ordinal) == true;

    [Fact]
    public void A_card_ticked_through_at_once_is_told_of_and_an_honest_pace_is_not()
    {
        Assert.Empty(Pace.Quick(Timed(Made(), _ => TimeSpan.FromSeconds(2))));
        var quick = Pace.Quick(Timed(Made(), e => TimeSpan.FromSeconds(OfTheMachine(e) ? 0.4 : 30)));
        var card = Assert.Single(quick);
        Assert.Equal(("ready", "Machine made ready"), (card.Phase, card.Card));
        Assert.Equal(7, card.Quick);
    }

    [Fact]
    public void What_a_tablet_kept_and_sent_at_once_has_the_pace_at_which_it_was_done()
    {
        var sent = SentAtOnce(secondsApart: 30);
        Assert.Empty(Pace.Quick(sent));
        Assert.NotEmpty(Pace.Quick(SentAtOnce(secondsApart: 0)));
    }

    [Fact]
    public void Two_people_at_once_are_not_one_who_does_not_look()
    {
        var turn = 0;
        var entries = Made().Entries.Select(e => e with { By = turn++ % 2 == 0 ? Setter : NightSetter, At = Morning });
        Assert.Empty(Pace.Quick(ProveOut.Replay(Made().Plan, [.. entries], Ledger.Empty)));
    }

    [Fact]
    public void A_step_long_after_the_one_before_is_told_of_the_longest_first()
    {
        var late = Pace.Late(
            Timed(
                Made(),
                e =>
                    e.Act.About switch
                    {
                        "ready.table" => TimeSpan.FromMinutes(20),
                        "ready.tool.1" => TimeSpan.FromMinutes(95),
                        _ => TimeSpan.FromMinutes(14),
                    }
            ),
            5
        );
        Assert.Equal([95d, 20d], late.Select(s => s.After.TotalMinutes));
        Assert.StartsWith("T1, ", late[0].Title, StringComparison.Ordinal);
        Assert.Single(Pace.Late(Timed(Made(), _ => TimeSpan.FromHours(1)), 1));
    }
}
