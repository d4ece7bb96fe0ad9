namespace Handwheel.Jobs.Motions;

/// <summary>Where two runs of one tool part.</summary>
/// <param name="Before">Null: the old run has ended there, or what is new stands between.</param>
/// <param name="After">Null: the new run has ended there, or something is left out.</param>
/// <param name="More">Events that stand between in the new run and that the old one does not have; negative: left out of the old one; 0: one in the place of another.</param>
/// <param name="OnlyCutting">They go the same way.</param>
sealed record MotionDifference(MotionEvent? Before, MotionEvent? After, int More, bool OnlyCutting)
{
    /// <summary>How far on the two runs are looked through for the place where they meet again.</summary>
    const int Ahead = 64;

    /// <summary>So many events in a row that agree make it the same place.</summary>
    const int Agree = 3;

    public static MotionDifference First(List<MotionEvent> before, List<MotionEvent> after, bool moves)
    {
        var i = 0;
        var most = Math.Min(before.Count, after.Count);
        while (i < most && (moves ? before[i].SamePath(after[i]) : before[i].SameCutting(after[i])))
            i++;
        if (!moves)
            return new(At(before, i), At(after, i), 0, OnlyCutting: true);
        if (i == before.Count || i == after.Count)
            return new(At(before, i), At(after, i), after.Count - before.Count, OnlyCutting: false);
        for (var more = 1; more <= Ahead; more++)
        {
            if (Meet(before, i, after, i + more))
                return new(null, after[i], more, OnlyCutting: false);
            if (Meet(before, i + more, after, i))
                return new(before[i], null, -more, OnlyCutting: false);
        }
        return new(before[i], after[i], 0, OnlyCutting: false);
    }

    static MotionEvent? At(List<MotionEvent> events, int i) => i < events.Count ? events[i] : null;

    static bool Meet(List<MotionEvent> before, int i, List<MotionEvent> after, int j)
    {
        if (i >= before.Count || j >= after.Count)
            return false;
        for (var k = 0; k < Agree && i + k < before.Count && j + k < after.Count; k++)
            if (!before[i + k].SamePath(after[j + k]))
                return false;
        return true;
    }
}
