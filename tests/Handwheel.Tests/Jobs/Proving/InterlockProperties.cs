using CsCheck;
using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>Random people doing random things, right, wrong, out of order: what they get through never breaks an interlock.</summary>
public class InterlockProperties
{
    static readonly Actor[] People = [Setter, Operator, NightSetter, Supervisor];
    static readonly string[] Z = ["-18.1250", "-15.1250", "-21.1250", "-12.1250"];

    [Fact]
    public void No_sequence_of_actions_breaks_an_interlock()
    {
        var plan = Plan(1);
        Gen.Int[0, 1_000_000].Array[20, 160].Sample(choices => Assert.Null(Broken(plan, choices)), iter: 200);
    }

    static string? Broken(ProveOutPlan plan, int[] choices)
    {
        var walk = new Walk(plan).Begin();
        var truth = new Truth();
        foreach (var choice in choices)
        {
            var (act, by) = Choose(walk, choice);
            var before = walk.ProveOut;
            if (before.WhyNot(walk.Entry(act, by)).Count > 0)
                continue;
            walk.Do(act, by);
            if (
                truth.Watch(act, by, Seen(before), Seen(walk.ProveOut), walk.ProveOut.Standing, walk.ProveOut.Ledger) is
                { } broken
            )
                return broken + " after " + string.Join("; ", walk.ProveOut.Entries.Select(e => e.Act));
            if (!before.Entries.SequenceEqual(walk.ProveOut.Entries.Take(before.Entries.Count)))
                return "5: an old entry is not what it was";
        }
        return null;
    }

    static List<Seen> Seen(ProveOut proveOut) => [.. proveOut.Steps.Select(s => new Seen(s.Id, s.Phase, s.State))];

    /// <summary>Mostly the next right thing, so that walks get far; otherwise anything.</summary>
    static (Act Act, Actor By) Choose(Walk walk, int choice)
    {
        var (what, who, which) = (choice % 20, People[choice / 20 % People.Length], choice / 100);
        var steps = walk.ProveOut.Steps;
        var open = steps
            .Where(s =>
                s.State is StepState.Open or StepState.ReadAgain or StepState.Refused && s.Phase != Phase.Parking
            )
            .ToList();
        if (what < 11 && open.Count > 0)
        {
            var next = what < 8 ? open[0] : open[which % open.Count];
            var by =
                next.Phase == Phase.ReadBack ? NightSetter
                : next.Id == "release.signed" ? Supervisor
                : Setter;
            return (walk.Right(next), by);
        }
        var any = steps[which % steps.Count];
        var z = Z[which % Z.Length];
        return what switch
        {
            11 => (walk.Right(any), who),
            12 => (new ReadingTyped("restore.offset.G55.z", z), Setter),
            13 => (
                new ReadingTyped(
                    open.FirstOrDefault(s => s.Id.EndsWith("G55.z", StringComparison.Ordinal))?.Id ?? "put-back.G55.z",
                    z
                ),
                NightSetter
            ),
            14 => (which % 2 == 0 ? new HandedOver(Words()) : new TakingOverAlone("gone"), who),
            15 => (new TookOver(), NightSetter),
            16 => (
                which % 3 == 0 ? new LengthChanged(1, "measured again")
                : which % 3 == 1 ? new ToolReplaced(1, "broke")
                : new HoldingChanged("clamp"),
                who
            ),
            17 => (
                which % 2 == 0 ? new DeviationSigned(any.Id, "signed for") : new SentBack([any.Id], "again"),
                Supervisor
            ),
            18 => (which % 2 == 0 ? new BaselineChanged("G55", "z", "set again") : new Interrupted("alarm"), who),
            _ => (new HandoffWithdrawn("not yet"), who),
        };
    }
}
