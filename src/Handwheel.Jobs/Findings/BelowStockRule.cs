using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>
/// The whole way of the tool against the space under each blank as it lies on the table, whatever has been cut away by then. Where the tool
/// then comes nearer to a piece of holding than it is below the blank, a person must look; where it goes through one, another rule says so.
/// </summary>
sealed class BelowStockRule(Facts facts) : Rule(facts)
{
    const double ChordDeviation = 1000;

    /// <summary>A tool with no diameter counts as a line, nm.</summary>
    const double LeastRadius = 2;

    public override RuleInfo Info { get; } = new("below-stock", Level.Check, "The tip goes below the stock");

    public override void LowMove(in ControlState state, in Leg leg)
    {
        double below = 0;
        (Solid, Pass)? near = null;
        Look(Tip(leg.From), Tip(leg.To), ref below, ref near);
        Say(state, below, near);
    }

    public override void LowArc(in ControlState state, in Leg leg, in Arc arc)
    {
        double below = 0;
        (Solid, Pass)? near = null;
        var path = new ArcPath(leg, arc);
        var chords = path.Chords(ChordDeviation);
        var before = Tip(path.PointAt(0));
        for (var i = 1; i <= chords; i++)
        {
            var next = Tip(path.PointAt((double)i / chords));
            Look(before, next, ref below, ref near);
            before = next;
        }
        Say(state, below, near);
    }

    TipPoint Tip(in Place place) => new(place.X, place.Y, place.Z - Facts.Own);

    TipPoint Tip(Tangent at) => new(at.X, at.Y, at.Z - Facts.Own);

    /// <summary>Deepest under a blank so far, and the piece of holding that is nearest where it is nearer than that.</summary>
    void Look(TipPoint from, TipPoint to, ref double below, ref (Solid Holding, Pass Pass)? near)
    {
        var lowest = Math.Min(from.Z, to.Z);
        var part = Part();
        foreach (var stock in Facts.Table.Stock)
        {
            if (!stock.PlaceKnown || !stock.HeightKnown || lowest >= stock.Bottom)
                continue;
            if (SweptCylinder.Against(Under(stock), from, to, part.Radius) is not { } under)
                continue;
            below = Math.Max(below, under.Below);
            var found = Nearest(from, to, part, under.Below);
            if (found is { } f && !(near?.Pass.Distance <= f.Pass.Distance))
                near = found;
        }
    }

    ToolPart Part()
    {
        if (Facts.Tool?.Diameter is not { Nanometres: > 0 })
            return new(LeastRadius, 0);
        var shape = Checking.Material.ToolShape.Of(Facts.Tool);
        return new(shape.Radius, 0, shape.CornerRadius);
    }

    static Solid Under(Solid stock) =>
        new()
        {
            Name = stock.Name,
            MinX = stock.MinX,
            MaxX = stock.MaxX,
            MinY = stock.MinY,
            MaxY = stock.MaxY,
            Top = stock.Bottom,
        };

    /// <summary>The piece of holding that is nearest, where it is nearer than <paramref name="below"/>; none where the tool goes through it.</summary>
    (Solid Holding, Pass Pass)? Nearest(TipPoint from, TipPoint to, in ToolPart part, double below)
    {
        (Solid, Pass)? nearest = null;
        foreach (var holding in Facts.Table.Holding)
        {
            if (!holding.PlaceKnown || !holding.HeightKnown)
                continue;
            var pass = NearestPasses.Along(holding, from, to, part);
            if (pass.Distance > 0 && pass.Distance < below)
                (nearest, below) = ((holding, pass), pass.Distance);
        }
        return nearest;
    }

    void Say(in ControlState state, double below, (Solid Holding, Pass Pass)? near)
    {
        var cause = state.Tool * 2 + (near is null ? 0 : 1);
        if (below <= 0 || Again(cause, state))
            return;
        if (near is not var (holding, pass))
            Report(
                cause,
                state,
                $"The tip of {Facts.Name(state.Tool)} goes {Facts.Figures.Say(below)} below the underside of the stock. Nothing that is described is as near to it there.",
                "Look that there is a gap under the part: table, parallels, vise bed.",
                Level.Note
            );
        else
            Report(
                cause,
                state,
                pass.Beside < 1000
                    ? Said.Kept(
                        $"The tip of {Facts.Name(state.Tool)} goes {Facts.Figures.Say(below)} below the underside of the stock, and passes {Facts.Figures.Say(pass.Distance)} over {holding.Name}."
                    )
                    : Said.Kept(
                        $"The tip of {Facts.Name(state.Tool)} goes {Facts.Figures.Say(below)} below the underside of the stock, and passes {Facts.Figures.Say(pass.Distance)} from {holding.Name}."
                    ),
                "Look at the gap under the part before the first cut."
            );
    }
}
