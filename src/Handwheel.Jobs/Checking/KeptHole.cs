using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// The times and distances of the last hole that was told leg by leg, for the holes of the same shape behind it: they are whole
/// numbers, so that adding them once for each hole is the same as adding every leg. Good until anything modal changes.
/// </summary>
sealed class KeptHole(PathClock clock, FindingBook book)
{
    readonly List<LineMove> pending = [];
    HoleShape shape;
    ClockSums before,
        sums;
    long spoken;
    bool telling;
    bool kept;

    /// <summary>A hole of this shape is kept.</summary>
    public bool Is(in HoleShape hole) => kept && shape == hole;

    /// <summary>Counts another hole of the shape that is kept.</summary>
    public void Again() => clock.Again(sums, pending);

    /// <summary>The legs of a hole follow.</summary>
    public void Begin(in HoleShape hole)
    {
        (kept, telling, shape) = (false, true, hole);
        before = clock.Sums;
    }

    /// <summary>
    /// The legs of the hole have been told. Where its block has something to be said, it is not kept: every block is to be said or counted by itself, and a
    /// rule may have spoken at an earlier hole of the same block.
    /// </summary>
    public void End()
    {
        if (!telling)
            return;
        telling = false;
        sums = clock.Sums - before;
        kept = spoken == book.Spoken && clock.TryPending(pending);
    }

    public void BlockEnd() => spoken = book.Spoken;

    /// <summary>Something has changed that a hole may depend on.</summary>
    public void Drop() => kept = telling = false;
}
