namespace Handwheel.Jobs.Checking.Clearance;

/// <summary>How near the tool or its holder came to one thing; nothing before the first move that was measured.</summary>
struct Pass
{
    /// <summary>Between the surfaces, nm; 0: through it.</summary>
    public double Distance;

    /// <summary>Its two parts: above the top, and beside the outline.</summary>
    public double Above,
        Beside;
    public Where At;

    /// <summary>Where the tip is at that moment.</summary>
    public TipPoint Tip;
    public bool OfHolder;
}

/// <summary>
/// The nearest pass to each thing that stands on the table. The distance of a moving upright cylinder from an upright column is a convex
/// function along a straight move, so its least value is found by narrowing, not by sampling.
/// </summary>
sealed class NearestPasses
{
    const int Narrowings = 48;

    readonly Solid[] solids;
    readonly Pass[] passes;

    public NearestPasses(Solid[] solids)
    {
        this.solids = solids;
        passes = [.. solids.Select(_ => new Pass { Distance = double.PositiveInfinity })];
        Ceiling = double.PositiveInfinity;
    }

    /// <summary>With the tip above this no move can be nearer to anything than what is known.</summary>
    public double Ceiling { get; private set; }

    public ref readonly Pass this[int solid] => ref passes[solid];

    /// <summary>Measures a straight move of a part of the tool; true when it is nearer than any before.</summary>
    public bool Closer(int solid, TipPoint from, TipPoint to, in ToolPart part, bool ofHolder, in Where at)
    {
        var found = Along(solids[solid], from, to, part);
        if (found.Distance >= passes[solid].Distance)
            return false;
        passes[solid] = found with { At = at, OfHolder = ofHolder };
        Ceiling = double.NegativeInfinity;
        for (var i = 0; i < solids.Length; i++)
            Ceiling = Math.Max(Ceiling, solids[i].Top + passes[i].Distance);
        return true;
    }

    /// <summary>The nearest place of a part whose tool has its tip on the way from one point to another.</summary>
    public static Pass Along(Solid solid, TipPoint from, TipPoint to, in ToolPart part)
    {
        double low = 0,
            high = 1;
        for (var i = 0; i < Narrowings && from != to; i++)
        {
            var third = (high - low) / 3;
            if (At(solid, from, to, low + third, part).Distance <= At(solid, from, to, high - third, part).Distance)
                high -= third;
            else
                low += third;
        }
        var best = At(solid, from, to, (low + high) / 2, part);
        var start = At(solid, from, to, 0, part);
        var end = At(solid, from, to, 1, part);
        if (start.Distance <= best.Distance)
            best = start;
        return end.Distance < best.Distance ? end : best;
    }

    /// <summary>A cylinder with a corner radius is all that is within this radius of a slimmer cylinder that begins as much higher.</summary>
    static Pass At(Solid solid, TipPoint from, TipPoint to, double share, in ToolPart part)
    {
        var tip = new TipPoint(
            from.X + (to.X - from.X) * share,
            from.Y + (to.Y - from.Y) * share,
            from.Z + (to.Z - from.Z) * share
        );
        var above = Math.Max(0, tip.Z + part.Lift + part.Corner - solid.Top);
        var beside = Math.Max(0, solid.Distance(tip.X, tip.Y) - (part.Radius - part.Corner));
        var ofCore = Math.Sqrt(above * above + beside * beside);
        var distance = Math.Max(0, ofCore - part.Corner);
        var left = ofCore > 0 ? distance / ofCore : 0;
        return new Pass
        {
            Above = above * left,
            Beside = beside * left,
            Distance = distance,
            Tip = tip,
        };
    }
}
