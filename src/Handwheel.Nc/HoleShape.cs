namespace Handwheel.Nc;

/// <summary>
/// Takes a hole, all its legs at once, with the rapid across to it where <paramref name="across"/> names the axes that the block commands.
/// <paramref name="state"/> is as before the first leg, <paramref name="over"/> is where X and Y of the hole are. False: the legs are told to the sink one by
/// one. A hole that is offered with nothing across and not taken is what the next is compared with; <see cref="RunOptions.HoleTold"/> says when it is done.
/// </summary>
public delegate bool HoleTaker(in ControlState state, in HoleShape hole, Axes across, in Place over);

/// <summary>
/// What the legs of a canned cycle along Z depend on, from over the hole to out of it: holes of one shape have the same legs, one beside the other. Every
/// level is known, lifted with the work offset and in machine coordinates (nm).
/// </summary>
/// <param name="From">Where Z stands before.</param>
/// <param name="End">Where it stands after: the R plane, or the level before the cycle.</param>
/// <param name="Dwell">Seconds at the bottom; below 0: none is written.</param>
/// <param name="Incremental">G91 is in force, which the legs themselves do not show.</param>
public readonly record struct HoleShape(
    Motion Motion,
    long From,
    long R,
    long Bottom,
    long End,
    long Peck,
    double Dwell,
    bool Incremental
)
{
    public long Highest => Math.Max(From, Math.Max(R, End));
}
