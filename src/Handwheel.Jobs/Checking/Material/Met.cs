namespace Handwheel.Jobs.Checking.Material;

/// <summary>What a tool met on one move. Lengths in nm, the volume in mm³.</summary>
struct Met
{
    /// <summary>Deepest that the underside went into the material, measured upright; 0: nothing was met.</summary>
    public double Depth;

    /// <summary>Highest material above the tip at the moment that it was met.</summary>
    public double AboveTip;
    public double Volume;
    public readonly bool Any => Depth > 0;

    public void With(in Met other)
    {
        Depth = Math.Max(Depth, other.Depth);
        AboveTip = Math.Max(AboveTip, other.AboveTip);
        Volume += other.Volume;
    }
}
