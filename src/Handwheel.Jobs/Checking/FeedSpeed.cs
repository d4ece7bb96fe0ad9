using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>How fast a feed move is commanded to go.</summary>
static class FeedSpeed
{
    /// <summary>nm/s, at most <paramref name="maxFeed"/> (nm/s); 0 where no feed is in force. <paramref name="length"/> of the block, nm, counts under G93 alone.</summary>
    public static double Of(in ControlState state, double length, double maxFeed)
    {
        if (!state.FeedGiven)
            return 0;
        var speed = state.FeedMode switch
        {
            FeedMode.PerMinute => state.Feed / 60,
            FeedMode.PerRevolution => state.Feed * state.SpindleSpeed / 60,
            _ => state.Feed * length / 60,
        };
        return Math.Min(speed, maxFeed);
    }
}
