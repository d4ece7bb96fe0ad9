using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>What somebody at the machine of the small shop does next, for any number.</summary>
static class RandomPeople
{
    public static readonly Actor[] All = [Setter, Operator, NightSetter, Supervisor];
    public static readonly string[] Z = ["-18.1250", "-15.1250", "-21.1250", "-12.1250"];

    /// <summary>Mostly the next right thing, so that walks get far; otherwise anything.</summary>
    public static (Act Act, Actor By) Choose(Walk walk, int choice)
    {
        var (what, who, which) = (choice % 20, All[choice / 20 % All.Length], choice / 100);
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
            14 => (
                which % 2 == 0
                    ? new HandedOver(Words(which % 4 == 0 ? "door switch bypassed" : "none"))
                    : new TakingOverAlone("gone"),
                who
            ),
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
