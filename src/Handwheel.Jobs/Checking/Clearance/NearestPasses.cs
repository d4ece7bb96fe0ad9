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

    /// <summary>Measures a straight move; true when it is nearer than any before.</summary>
    public bool Closer(int solid, TipPoint from, TipPoint to, double radius, bool ofHolder, in Where at)
    {
        var found = Along(solids[solid], from, to, radius);
        if (found.Distance >= passes[solid].Distance)
            return false;
        passes[solid] = found with { At = at, OfHolder = ofHolder };
        Ceiling = double.NegativeInfinity;
        for (var i = 0; i < solids.Length; i++)
            Ceiling = Math.Max(Ceiling, solids[i].Top + passes[i].Distance);
        return true;
    }

    public static Pass Along(Solid solid, TipPoint from, TipPoint to, double radius)
    {
        double low = 0,
            high = 1;
        for (var i = 0; i < Narrowings && from != to; i++)
        {
            var third = (high - low) / 3;
            if (At(solid, from, to, low + third, radius).Distance <= At(solid, from, to, high - third, radius).Distance)
                high -= third;
            else
                low += third;
        }
        var best = At(solid, from, to, (low + high) / 2, radius);
        var start = At(solid, from, to, 0, radius);
        var end = At(solid, from, to, 1, radius);
        if (start.Distance <= best.Distance)
            best = start;
        return end.Distance < best.Distance ? end : best;
    }

    static Pass At(Solid solid, TipPoint from, TipPoint to, double share, double radius)
    {
        var above = Math.Max(0, from.Z + (to.Z - from.Z) * share - solid.Top);
        var beside = Math.Max(
            0,
            solid.Distance(from.X + (to.X - from.X) * share, from.Y + (to.Y - from.Y) * share) - radius
        );
        return new Pass
        {
            Above = above,
            Beside = beside,
            Distance = Math.Sqrt(above * above + beside * beside),
        };
    }
}
