using Handwheel.Jobs.Checking.Material;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking.Clearance;

/// <summary>Which way of moving made the contact.</summary>
enum Way
{
    Straight,
    Dogleg,
    Arc,

    /// <summary>Where the move starts is not known: only its end was looked at.</summary>
    EndOnly,
}

/// <summary>A move of the tool that goes through a piece of holding.</summary>
/// <param name="Part">0: the tool; else the part of the holder, from 1 upwards.</param>
readonly record struct HoldingContact(int Holding, Contact Contact, Way Way, int Part);

/// <summary>An upright cylinder of tool or holder that begins <paramref name="Lift"/> above the tip, nm.</summary>
/// <param name="Corner">Radius of its lower corner, no larger than <paramref name="Radius"/>.</param>
readonly record struct ToolPart(double Radius, double Lift, double Corner = 0);

/// <summary>
/// Sweeps the tool, a cylinder of its diameter and corner radius from its tip up, and the parts of its holder along every move, looks for
/// holding in their way and keeps the nearest pass. A tool with a point counts as a full cylinder. Most moves are settled by one comparison: a rectangle around the last move in which nothing stands as near as the nearest pass.
/// </summary>
sealed class HoldingSweep
{
    /// <summary>What a distance can be off by, and a contact be too shallow to be found, nm: half of a thousandth of an inch.</summary>
    public const double Bound = 12_700;

    /// <summary>Chords of an arc deviate from it by no more than this, nm.</summary>
    const double ChordDeviation = 1000;

    /// <summary>Far more than two ways of working out one distance differ by, nm.</summary>
    const double Rounding = 0.001;

    readonly Facts facts;
    readonly Solid[] holding;
    readonly int[] indexes;
    readonly double highest;
    readonly RapidPath rapidPath;
    readonly Rates rates;
    readonly bool ratesKnown;
    double freeMinX,
        freeMaxX,
        freeMinY,
        freeMaxY;
    readonly NearestPasses nearest;
    readonly List<ToolPart> parts = [];
    double outer;
    long own;
    Where place;
    bool ready;
    int saidTool = -1;
    string? said;
    readonly HashSet<(int, string)> told = [];
    readonly List<HoldingContact> contacts = [];

    public HoldingSweep(Facts facts)
    {
        this.facts = facts;
        var machine = facts.Setup.Machine;
        var placed = facts.Table.Holding.Index().Where(h => h.Item.PlaceKnown && h.Item.HeightKnown).ToArray();
        holding = [.. placed.Select(h => h.Item)];
        indexes = [.. placed.Select(h => h.Index)];
        foreach (var solid in facts.Table.Holding.Where(h => !h.PlaceKnown || !h.HeightKnown))
            facts.NotChecked.Say($"contact with {solid.Name}: the setup gives no value for its work offset");
        if (facts.Table.Holding.Count == 0)
            facts.NotChecked.Say("contact with holding: none is described");
        nearest = new NearestPasses(holding);
        highest = holding.Length == 0 ? double.MinValue : holding.Max(s => s.Top);
        rapidPath = machine.RapidPath;
        ratesKnown = machine.Rapid is { X: > 0, Y: > 0, Z: > 0 };
        rates = Rates.From(machine.Rapid, 1);
        if (!ratesKnown && rapidPath != RapidPath.Straight && holding.Length > 0)
            facts.NotChecked.Say("rapids with each axis at its own rate: the machine has no rapid rates");
    }

    public bool Any => holding.Length > 0;

    /// <summary>Another tool is in the spindle, or its length is taken another way.</summary>
    public void Take(in ControlState state)
    {
        freeMinX = double.PositiveInfinity;
        freeMaxX = double.NegativeInfinity;
        ready = facts.OwnKnown && facts.Tool?.Diameter is not null;
        own = facts.Own;
        parts.Clear();
        var radius = (facts.Tool?.Diameter?.Nanometres ?? 0) / 2.0;
        parts.Add(new ToolPart(radius, 0, ready ? ToolShape.Of(facts.Tool!).CornerRadius : 0));
        outer = radius;
        if (facts.Tool?.StickoutJudged is not { } stickout)
            return;
        double lift = stickout.Nanometres;
        foreach (var part in facts.Tool.Holder)
        {
            // a part no wider than the tool is inside the tool's own cylinder
            if (part.Diameter.Nanometres / 2.0 > radius)
                parts.Add(new ToolPart(part.Diameter.Nanometres / 2.0, lift));
            outer = Math.Max(outer, part.Diameter.Nanometres / 2.0);
            lift += part.Length.Nanometres;
        }
    }

    /// <summary>The nearest pass to each piece of holding that any measured move came near, in the setup's order.</summary>
    public IEnumerable<(int Holding, Pass Pass)> Nearest =>
        indexes.Select((index, i) => (index, nearest[i])).Where(p => double.IsFinite(p.Item2.Distance));

    /// <summary>What the last move went through; each piece of holding once.</summary>
    public IReadOnlyList<HoldingContact> Contacts => contacts;

    /// <summary>True: the move goes through something, see <see cref="Contacts"/>.</summary>
    public bool Line(in ControlState state, in Leg leg)
    {
        contacts.Clear();
        if (!ready)
            return CannotSay(state);
        var to = Tip(leg.To);
        var from = Tip(leg.From);
        if (!leg.To.IsMachine || !leg.From.IsMachine)
            return FromUnknown(state, leg, from, to);
        if (IsFree(from, to) || IsStraightUp(from, to))
            return false;
        place = Where.Of(state);
        var dogleg = !Facts.IsFeed(leg.Kind) && ratesKnown && rapidPath != RapidPath.Straight;
        if (!dogleg || rapidPath == RapidPath.NotKnown)
            Straight(from, to, Way.Straight);
        if (dogleg)
            EachAxis(from, to);
        return contacts.Count > 0;
    }

    public bool Arc(in ControlState state, in Leg leg, in Arc arc)
    {
        contacts.Clear();
        if (!ready)
            return CannotSay(state);
        if (!leg.To.IsMachine || !leg.From.IsMachine)
            return FromUnknown(state, leg, Tip(leg.From), Tip(leg.To));
        var (low, high) = Box(leg, arc);
        if (IsFree(low, high))
            return false;
        place = Where.Of(state);
        var path = new ArcPath(leg, arc);
        var chords = path.Chords(ChordDeviation);
        var before = Point(path.PointAt(0));
        for (var i = 1; i <= chords; i++)
        {
            var at = Point(path.PointAt((double)i / chords));
            Straight(before, at, Way.Arc);
            before = at;
        }
        return contacts.Count > 0;
    }

    /// <summary>No move inside a box of known places can touch anything, or be nearer to it than what is known.</summary>
    public bool IsFree(in Place low, in Place high)
    {
        if (!ready)
            return false;
        var (from, to) = (Tip(low), Tip(high));
        for (var i = 0; i < holding.Length; i++)
            if (!IsFar(i, from, to))
                return false;
        return true;
    }

    TipPoint Tip(in Place place) => new(place.X, place.Y, place.Z - own);

    TipPoint Point(Tangent at) => new(at.X, at.Y, at.Z - own);

    (TipPoint Low, TipPoint High) Box(in Leg leg, in Arc arc)
    {
        var from = Tip(leg.From);
        var to = Tip(leg.To);
        var low = new TipPoint(Math.Min(from.X, to.X), Math.Min(from.Y, to.Y), Math.Min(from.Z, to.Z));
        var high = new TipPoint(Math.Max(from.X, to.X), Math.Max(from.Y, to.Y), Math.Max(from.Z, to.Z));
        return arc.Plane switch
        {
            Plane.XY => (low with { X = arc.MinU, Y = arc.MinV }, high with { X = arc.MaxU, Y = arc.MaxV }),
            Plane.ZX => (low with { Z = arc.MinU - own, X = arc.MinV }, high with { Z = arc.MaxU - own, X = arc.MaxV }),
            _ => (low with { Y = arc.MinU, Z = arc.MinV - own }, high with { Y = arc.MaxU, Z = arc.MaxV - own }),
        };
    }

    /// <summary>Straight up the tool enters nothing that it was not in before.</summary>
    static bool IsStraightUp(TipPoint from, TipPoint to) => from.X == to.X && from.Y == to.Y && to.Z > from.Z;

    /// <summary>Nothing stands as near as its nearest pass in the rectangle around the move. Finds the next free rectangle when it has left the last one.</summary>
    bool IsFree(TipPoint from, TipPoint to)
    {
        var minX = Math.Min(from.X, to.X);
        var maxX = Math.Max(from.X, to.X);
        var minY = Math.Min(from.Y, to.Y);
        var maxY = Math.Max(from.Y, to.Y);
        if (minX >= freeMinX && maxX <= freeMaxX && minY >= freeMinY && maxY <= freeMaxY)
            return true;
        if (Math.Min(from.Z, to.Z) >= nearest.Ceiling)
            return true;
        double left = double.NegativeInfinity,
            right = double.PositiveInfinity,
            front = double.NegativeInfinity,
            back = double.PositiveInfinity;
        for (var i = 0; i < holding.Length; i++)
        {
            var solid = holding[i];
            var reach = outer + nearest[i].Distance;
            var gapLeft = minX - (solid.MaxX + reach);
            var gapRight = solid.MinX - reach - maxX;
            var gapFront = minY - (solid.MaxY + reach);
            var gapBack = solid.MinY - reach - maxY;
            var widest = Math.Max(Math.Max(gapLeft, gapRight), Math.Max(gapFront, gapBack));
            if (!(widest >= 0))
                return false;
            if (widest == gapLeft)
                left = Math.Max(left, solid.MaxX + reach);
            else if (widest == gapRight)
                right = Math.Min(right, solid.MinX - reach);
            else if (widest == gapFront)
                front = Math.Max(front, solid.MaxY + reach);
            else
                back = Math.Min(back, solid.MinY - reach);
        }
        (freeMinX, freeMaxX, freeMinY, freeMaxY) = (left, right, front, back);
        return true;
    }

    void Straight(TipPoint from, TipPoint to, Way way)
    {
        for (var i = 0; i < holding.Length; i++)
        {
            if (IsFar(i, from, to))
                continue;
            for (var part = 0; part < parts.Count; part++)
                Against(i, part, from, to, way);
        }
    }

    void Against(int solid, int part, TipPoint from, TipPoint to, Way way)
    {
        var shape = parts[part];
        if (
            SweptCylinder.Against(holding[solid], from.Up(shape.Lift), to.Up(shape.Lift), shape.Radius, shape.Corner) is
            { } contact
        )
            Add(new HoldingContact(indexes[solid], contact, way, part));
        if (way != Way.EndOnly && nearest.Closer(solid, from, to, shape, part > 0, place))
            freeMinX = double.PositiveInfinity;
    }

    /// <summary>No part of the move can be as near as the nearest pass, nor touch.</summary>
    bool IsFar(int i, TipPoint from, TipPoint to)
    {
        var solid = holding[i];
        var best = nearest[i].Distance;
        return Math.Min(from.Z, to.Z) - solid.Top >= best
            || Math.Min(from.X, to.X) - solid.MaxX - outer >= best
            || solid.MinX - outer - Math.Max(from.X, to.X) >= best
            || Math.Min(from.Y, to.Y) - solid.MaxY - outer >= best
            || solid.MinY - outer - Math.Max(from.Y, to.Y) >= best
            || Least(solid, from, to) >= best + Rounding;
    }

    /// <summary>No place in the box around a move is nearer to the solid than this. Spares most moves past a corner the measuring, which takes a hundred times as long.</summary>
    double Least(Solid solid, TipPoint from, TipPoint to)
    {
        var above = Math.Max(0, Math.Min(from.Z, to.Z) - solid.Top);
        var beside = solid.Distance(
            Math.Min(from.X, to.X),
            Math.Max(from.X, to.X),
            Math.Min(from.Y, to.Y),
            Math.Max(from.Y, to.Y)
        );
        beside = Math.Max(0, beside - outer);
        return Math.Sqrt(above * above + beside * beside);
    }

    /// <summary>Of several contacts of one move with the same thing the deepest is kept.</summary>
    void Add(HoldingContact found)
    {
        for (var i = 0; i < contacts.Count; i++)
        {
            if (contacts[i].Holding != found.Holding || contacts[i].Part > 0 != found.Part > 0)
                continue;
            if (found.Contact.Inside > contacts[i].Contact.Inside + 1)
                contacts[i] = found;
            return;
        }
        contacts.Add(found);
    }

    void EachAxis(TipPoint from, TipPoint to)
    {
        Span<TipPoint> points = stackalloc TipPoint[4];
        var count = Dogleg.Path(from, to, rates, points);
        for (var i = 1; i < count; i++)
            Straight(points[i - 1], points[i], count > 2 ? Way.Dogleg : Way.Straight);
    }

    /// <summary>An end is not known: above everything no path can touch; else only a known end is looked at, and that is said.</summary>
    bool FromUnknown(in ControlState state, in Leg leg, TipPoint from, TipPoint to)
    {
        if (leg.To.RestZ == 0 && leg.From.RestZ == 0 && from.Z >= highest && to.Z >= highest)
            return false;
        if (!leg.To.IsMachine)
        {
            SayOnce(state, "it goes to a place that is not known");
            return false;
        }
        SayOnce(state, "where it starts is not known; only its end was looked at");
        Straight(to, to, Way.EndOnly);
        return contacts.Count > 0;
    }

    bool CannotSay(in ControlState state)
    {
        SayOnce(
            state,
            facts.Tool is null ? "the setup does not list the tool"
                : facts.OwnKnown ? "the tool has no diameter"
                : "the length of the tool is not known"
        );
        return false;
    }

    void SayOnce(in ControlState state, string why)
    {
        if (saidTool == state.Tool && ReferenceEquals(said, why))
            return;
        (saidTool, said) = (state.Tool, why);
        if (told.Add((state.Tool, why)))
            facts.NotChecked.Say(
                $"contact with holding: T{Figures.Whole(state.Tool)} at line {Figures.Whole(state.Line)}: {why}"
            );
    }
}
