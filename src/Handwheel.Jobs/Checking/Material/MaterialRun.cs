using Handwheel.Jobs.Checking.Clearance;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking.Material;

/// <summary>What a move met that it should not meet; lengths in nm.</summary>
readonly record struct MaterialContact(Met Rapid, Met Holder, double PastFlutes, double PlungeDepth);

/// <summary>
/// Follows the stock as it is cut, move by move. As soon as something is done to it that is not known (a tool without a diameter, a code
/// that was not followed, a turned coordinate system) it stops following and says so: what it reports is there.
/// </summary>
sealed class MaterialRun
{
    /// <summary>Contacts shallower than this, upright or sideways, are rounding: a wall met again, a floor, a peck. nm.</summary>
    public const double Tolerance = 50_000;

    const double ChordDeviation = 2_000;
    const double PointsMost = 4_000_000;
    const long LooksMost = 400_000_000;

    readonly Facts facts;
    readonly List<HeightMap> maps = [];
    readonly List<ToolCutting> cuttings = [];
    readonly Rates rates;
    readonly bool ratesKnown;
    readonly double grid;
    readonly double highest;
    readonly List<ToolPart> holder = [];
    ToolCutting? cutting;
    ToolShape shape;
    bool ready;
    bool isProbe;

    public MaterialRun(Facts facts)
    {
        this.facts = facts;
        grid = facts.MaterialGrid;
        rates = Rates.From(facts.Setup.Machine.Rapid, 1);
        ratesKnown = facts.Setup.Machine.Rapid is { X: > 0, Y: > 0, Z: > 0 };
        if (facts.Table.Stock.Count == 0 || !MayFollow())
            return;
        maps.AddRange(facts.Table.Stock.Select(s => new HeightMap(s, grid)));
        highest = facts.Table.Stock.Max(s => s.Top);
    }

    /// <summary>There is stock, and it has been followed so far.</summary>
    public bool Any => maps.Count > 0;

    public IReadOnlyList<ToolCutting> Cuttings => cuttings;

    /// <summary>What a tool has cut so far; null: nothing.</summary>
    public ToolCutting? CuttingOf(int tool) => cuttings.Find(c => c.Tool == tool);

    public double VolumeLeft => maps.Sum(m => m.Volume);

    /// <summary>What is left of each blank, in the setup's order.</summary>
    public IReadOnlyList<HeightMap> Maps => maps;

    /// <summary>Why the stock is not followed, or not any more; null: it is, or there is none.</summary>
    public string? WhyNot { get; private set; }

    /// <summary>The last feed move took material off; null where that cannot be said.</summary>
    public bool? Cuts { get; private set; }

    bool MayFollow()
    {
        var why =
            !facts.Options.Material ? "it was switched off"
            : facts.ProgramBytes > facts.Options.MaterialBytesMost
                ? $"the program is larger than {Figures.Bytes(facts.Options.MaterialBytesMost)}"
            : facts.Table.Stock.Any(s => !s.PlaceKnown || !s.HeightKnown)
                ? "the setup gives no value for the work offset of a blank"
            : facts.Table.Stock.Sum(s => HeightMap.Points(s, grid)) > PointsMost
                ? $"the grid would have more than {Figures.Whole((long)PointsMost)} points"
            : null;
        if (why is not null)
            Say(why);
        return why is null;
    }

    /// <summary>From here on nothing is known about what is left.</summary>
    public void StopFollowing(in ControlState state, string why)
    {
        if (!Any)
            return;
        Say($"from line {Figures.Whole(state.Line)} on: {why}");
        maps.Clear();
        Cuts = null;
    }

    void Say(string why)
    {
        WhyNot = why;
        facts.NotChecked.Say("rapids through stock, and what is left of it after each cut: " + why);
    }

    public void Take(in ControlState state)
    {
        Cuts = null;
        ready = facts.OwnKnown && facts.Tool?.Diameter is { Nanometres: > 0 };
        isProbe = facts.Tool?.Kind == "probe";
        holder.Clear();
        if (!Any || !ready)
            return;
        shape = ToolShape.Of(facts.Tool!);
        var number = state.Tool;
        cutting = cuttings.Find(c => c.Tool == number);
        if (cutting is null)
            cuttings.Add(cutting = new ToolCutting(number));
        if (facts.Tool!.StickoutJudged is not { } stickout)
            return;
        double lift = stickout.Nanometres;
        foreach (var part in facts.Tool.Holder)
        {
            holder.Add(new ToolPart(part.Diameter.Nanometres / 2.0 - Tolerance, lift + Tolerance));
            lift += part.Length.Nanometres;
        }
    }

    public MaterialContact Line(in ControlState state, in Leg leg)
    {
        Cuts = null;
        var to = Tip(leg.To);
        var from = Tip(leg.From);
        if (!CanFollow(state, leg) || Math.Min(from.Z, to.Z) >= highest || isProbe)
            return default;
        return Facts.IsFeed(leg.Kind) ? Feed(state, from, to, Length(from, to)) : Rapid(state, from, to);
    }

    public MaterialContact Arc(in ControlState state, in Leg leg, in Arc arc)
    {
        Cuts = null;
        if (!CanFollow(state, leg) || isProbe)
            return default;
        var path = new ArcPath(leg, arc);
        var chords = path.Chords(ChordDeviation);
        var before = Point(path.PointAt(0));
        var worst = default(MaterialContact);
        var cuts = false;
        for (var i = 1; i <= chords && Any; i++)
        {
            var point = Point(path.PointAt((double)i / chords));
            var met = Feed(state, before, point, arc.Length / chords);
            cuts |= Cuts == true;
            if (met.PastFlutes > worst.PastFlutes)
                worst = worst with { PastFlutes = met.PastFlutes };
            if (met.Holder.Depth > worst.Holder.Depth)
                worst = worst with { Holder = met.Holder };
            before = point;
        }
        Cuts = Any && IsSeen ? cuts : null;
        return worst;
    }

    TipPoint Tip(in Place place) => new(place.X, place.Y, place.Z - facts.Own);

    TipPoint Point(Tangent at) => new(at.X, at.Y, at.Z - facts.Own);

    static double Length(TipPoint a, TipPoint b) =>
        Math.Sqrt((b.X - a.X) * (b.X - a.X) + (b.Y - a.Y) * (b.Y - a.Y) + (b.Z - a.Z) * (b.Z - a.Z));

    /// <summary>A tool much smaller than the grid can go between its points.</summary>
    bool IsSeen => shape.Radius >= 2 * grid;

    bool CanFollow(in ControlState state, in Leg leg)
    {
        if (ready && leg.From.IsMachine && leg.To.IsMachine)
            return true;
        if (Facts.IsFeed(leg.Kind))
            StopFollowing(
                state,
                ready
                    ? "a feed move between places that are not known"
                    : $"diameter or length of T{Figures.Whole(state.Tool)} is not known"
            );
        return false;
    }

    MaterialContact Feed(in ControlState state, TipPoint from, TipPoint to, double length)
    {
        if (state.Compensation != CutterCompensation.Off && !state.CutterRadiusKnown)
        {
            StopFollowing(state, $"D{Figures.Whole(state.D)} has no value, so nobody knows where the tool is");
            return default;
        }
        var center = from.X == to.X && from.Y == to.Y && to.Z < from.Z ? CentreDepth(to) : 0;
        var met = All(from, to, shape, cut: true, state);
        Cuts = Any && IsSeen ? met.Depth > Tolerance : null;
        Count(state, from, to, met, length);
        var flutes = facts.Tool!.FluteLength?.Nanometres ?? double.PositiveInfinity;
        var past = IsSeen && met.Depth > Tolerance ? Math.Max(0, met.AboveTip - flutes - Tolerance) : 0;
        return new MaterialContact(default, Holder(from, to, state), past, center);
    }

    void Count(in ControlState state, TipPoint from, TipPoint to, in Met met, double length)
    {
        if (!met.Any)
            return;
        double? feed = state.FeedMode switch
        {
            FeedMode.PerMinute => state.Feed,
            FeedMode.PerRevolution => state.Feed * state.SpindleSpeed,
            _ => null,
        };
        var across = Length(from, to with { Z = from.Z });
        cutting!.Add(met, length, across, from.Z == to.Z, feed, grid);
    }

    /// <summary>
    /// Air between the underside of the tool and the material under it, as cut so far, nm; <paramref name="most"/> where there is as much or more, and 0
    /// or less in the material. Null: the material is not followed, or the tool is small against the grid.
    /// </summary>
    public double? AirBelow(in Place place, double most)
    {
        if (!Any || !ready || !IsSeen || shape.Radius <= 2 * Tolerance)
            return null;
        var lowered = Tip(place).Up(-most);
        var depth = 0.0;
        foreach (var map in maps)
            depth = Math.Max(depth, map.Move(lowered, lowered, shape.Inset(Tolerance), cut: false).Depth);
        return depth > HeightMap.Rounding ? most - depth : most;
    }

    double CentreDepth(TipPoint to)
    {
        var depth = 0.0;
        foreach (var map in maps)
            depth = Math.Max(depth, (map.HeightAt(to.X, to.Y) ?? to.Z) - to.Z);
        return depth > 2 * Tolerance && IsSeen ? depth : 0;
    }

    MaterialContact Rapid(in ControlState state, TipPoint from, TipPoint to)
    {
        // straight up the tool enters nothing that it was not in before; boring bars leave off centre
        var looks =
            (from.X != to.X || from.Y != to.Y || to.Z < from.Z)
            && state.Motion is not (Motion.Cycle76 or Motion.Cycle87);
        if (!looks)
            return default;
        var met = default(Met);
        var held = default(Met);
        var dogleg = ratesKnown && facts.Setup.Machine.RapidPath != RapidPath.Straight;
        if (!dogleg || facts.Setup.Machine.RapidPath == RapidPath.NotKnown)
            Look(from, to, state, ref met, ref held);
        if (dogleg)
        {
            Span<TipPoint> points = stackalloc TipPoint[4];
            var count = Dogleg.Path(from, to, rates, points);
            for (var i = 1; i < count; i++)
                Look(points[i - 1], points[i], state, ref met, ref held);
        }
        return new MaterialContact(met, held, 0, 0);
    }

    /// <summary>With a tool smaller by the tolerance, and that much higher. What a rapid has torn out is gone for the moves that follow.</summary>
    void Look(TipPoint from, TipPoint to, in ControlState state, ref Met met, ref Met held)
    {
        if (shape.Radius <= 2 * Tolerance)
            return;
        met.With(All(from.Up(Tolerance), to.Up(Tolerance), shape.Inset(Tolerance), cut: false, state));
        held.With(Holder(from, to, state));
        if (met.Any)
            All(from, to, shape, cut: true, state);
    }

    Met Holder(TipPoint from, TipPoint to, in ControlState state)
    {
        var met = default(Met);
        var lowest = Math.Min(from.Z, to.Z);
        foreach (var part in holder)
        {
            if (part.Radius > 0 && lowest + part.Lift < highest)
                met.With(All(from.Up(part.Lift), to.Up(part.Lift), ToolShape.Flat(part.Radius), cut: false, state));
        }
        return met;
    }

    Met All(TipPoint from, TipPoint to, in ToolShape moved, bool cut, in ControlState state)
    {
        var met = default(Met);
        var looks = 0L;
        foreach (var map in maps)
        {
            met.With(map.Move(from, to, moved, cut));
            looks += map.Looks;
        }
        if (looks > LooksMost)
            StopFollowing(state, $"the cutting takes more than {Figures.Whole(LooksMost)} looks at points of the grid");
        return met;
    }
}
