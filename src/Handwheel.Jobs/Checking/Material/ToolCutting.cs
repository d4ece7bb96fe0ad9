namespace Handwheel.Jobs.Checking.Material;

/// <summary>What one tool takes off over the whole program. Lengths in nm, volumes in mm³, times in minutes.</summary>
sealed class ToolCutting(int tool)
{
    public int Tool => tool;
    public double Volume { get; private set; }
    public double Depth { get; private set; }
    public double? Width { get; private set; }
    public double Minutes { get; private set; }
    public bool TimeUnknown { get; private set; }

    public void Add(in Met met, double length, double acrossLength, bool level, double? feed, double grid)
    {
        Volume += met.Volume;
        // rounding of heights takes no time from the rate
        if (met.Depth <= HeightMap.Rounding)
            return;
        Depth = Math.Max(Depth, met.Depth);
        if (feed is > 0)
            Minutes += length / feed.Value;
        else
            TimeUnknown = true;
        if (level && acrossLength >= 8 * grid)
            Width = Math.Max(Width ?? 0, met.Volume * 1e18 / (acrossLength * met.Depth));
    }
}
