namespace Handwheel.Nc;

// A way back that is taken again and again while nothing that decides the way has changed leads nowhere else.
partial class Follower<TSink>
{
    /// <summary>The same way back, so often with nothing changed, has no other end.</summary>
    const int SameWaysBack = 1000;
    const int WaysBackMost = 10_000;

    readonly Dictionary<(int File, int From), WayBack> waysBack = [];

    /// <summary>Number of the call that is under way; every call has its own.</summary>
    long callInForce;
    long callsBegun;

    /// <param name="Changed">Of the parameters, when the way was last taken.</param>
    readonly record struct WayBack(long Changed, long Call, int Times);

    /// <summary>Ends the run, with its fault said, where the way back from this block is taken for ever.</summary>
    bool NeverLeaves(in TextPlace target)
    {
        if (target.File != state.File || target.Pos > state.BlockStart)
            return false;
        if (waysBack.Count >= WaysBackMost)
            waysBack.Clear();
        var key = (state.File, state.BlockStart);
        var same =
            waysBack.TryGetValue(key, out var last) && last.Changed == parameters.Changed && last.Call == callInForce;
        waysBack[key] = new(parameters.Changed, callInForce, same ? last.Times + 1 : 1);
        if (!same || last.Times < SameWaysBack)
            return false;
        Refuse(FaultKind.NeverEnds, "a loop in which nothing changes that could end it", 0);
        End(RunEnd.Limit);
        return true;
    }
}
