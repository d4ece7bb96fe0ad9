using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class OutsideTravelRule : Rule
{
    readonly long lowX,
        highX,
        lowY,
        highY,
        lowZ,
        highZ;

    public OutsideTravelRule(Facts facts)
        : base(facts)
    {
        var travel = facts.Setup.Machine.Travel;
        (lowX, highX) = (travel.X.Low.Nanometres, travel.X.High.Nanometres);
        (lowY, highY) = (travel.Y.Low.Nanometres, travel.Y.High.Nanometres);
        (lowZ, highZ) = (travel.Z.Low.Nanometres, travel.Z.High.Nanometres);
    }

    public override RuleInfo Info { get; } = new("outside-travel", Level.Stop, "A move outside the machine's travel");

    /// <summary>Cheap enough for every move: some known axis ends outside its travel.</summary>
    public bool IsOutside(in Place to) =>
        ((to.X < lowX || to.X > highX) && to.RestX == 0)
        || ((to.Y < lowY || to.Y > highY) && to.RestY == 0)
        || ((to.Z < lowZ || to.Z > highZ) && to.RestZ == 0);

    public void Outside(in ControlState state, in Place to)
    {
        if (to.RestX == 0)
            Look(state, "X", to.X, to.X, lowX, highX);
        if (to.RestY == 0)
            Look(state, "Y", to.Y, to.Y, lowY, highY);
        if (to.RestZ == 0)
            Look(state, "Z", to.Z, to.Z, lowZ, highZ);
    }

    /// <summary>With the true extremes of the arc.</summary>
    public void Arc(in ControlState state, in Leg leg, in Arc arc)
    {
        var (x, y, z) = arc.Plane switch
        {
            Plane.XY => ((arc.MinU, arc.MaxU), (arc.MinV, arc.MaxV), (leg.To.Z, leg.To.Z)),
            Plane.ZX => ((arc.MinV, arc.MaxV), (leg.To.Y, leg.To.Y), (arc.MinU, arc.MaxU)),
            _ => ((leg.To.X, leg.To.X), (arc.MinU, arc.MaxU), (arc.MinV, arc.MaxV)),
        };
        if (leg.To.RestX == 0)
            Look(state, "X", x.Item1, x.Item2, lowX, highX);
        if (leg.To.RestY == 0)
            Look(state, "Y", y.Item1, y.Item2, lowY, highY);
        if (leg.To.RestZ == 0)
            Look(state, "Z", z.Item1, z.Item2, lowZ, highZ);
    }

    void Look(in ControlState state, string axis, long low, long high, long least, long most)
    {
        if (low < least)
            Say(state, axis, low, least, lower: true);
        if (high > most)
            Say(state, axis, high, most, lower: false);
    }

    void Say(in ControlState state, string axis, long at, long limit, bool lower)
    {
        var cause = axis[0] * 10 + (lower ? 0 : 1);
        if (Again(cause, state))
            return;
        var figures = Facts.Figures;
        Report(
            cause,
            state,
            lower
                ? Said.Kept(
                    $"{axis} goes to machine {figures.Bare(at)}, {figures.Say(limit - at)} beyond the lower limit of {figures.Bare(limit)}."
                )
                : Said.Kept(
                    $"{axis} goes to machine {figures.Bare(at)}, {figures.Say(at - limit)} beyond the upper limit of {figures.Bare(limit)}."
                ),
            "Place the part or the work offset so that the path lies inside the travel, or correct the block."
        );
    }
}
