using Handwheel.Jobs.Findings;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// One pass over the motion of a program: keeps bounds, window, stops, lengths and times, and shows the rules what they ask
/// for. A plain feed move costs a few comparisons here and one square root in the clock.
/// </summary>
sealed class CheckRun
{
    readonly Facts facts;
    readonly RuleSet rules;
    readonly StopFinder stops;
    readonly CoolantUse coolant = new();
    readonly PathClock clock;
    readonly OutsideTravelRule travel;
    readonly HoldingRules holding;
    readonly MaterialRules material;
    readonly Totals totals = new();
    readonly long stockBottom;
    readonly KeptHole keptHole;
    Extent? extent;
    bool toolUsed;
    bool followed = true;
    Units? firstUnits;

    public CheckRun(Facts facts)
    {
        this.facts = facts;
        rules = new RuleSet(facts);
        stops = new StopFinder(facts);
        OperatorStops = new OperatorStops(facts);
        Restarts = new Restarts(facts);
        travel = rules.Travel;
        holding = rules.Holding;
        material = rules.Material;
        clock = new PathClock(facts.Setup) { Tool = new ToolTotals(0) };
        keptHole = new KeptHole(clock, facts.Book);
        var stock = facts.Table.Stock.Where(s => s.HeightKnown).ToList();
        stockBottom = stock.Count == 0 ? long.MinValue : stock.Max(s => s.Bottom);
        var start = new ControlState();
        start.Tool = SettingsOf.FirstTool(facts.Setup);
        Take(start);
        rules.Look(start);
    }

    public Totals Totals => totals;
    public PathClock Clock => clock;
    public IReadOnlyList<StopDraft> Stops => stops.Drafts;

    /// <summary>Stops that are not in the list because it is full.</summary>
    public int StopsBeyond => stops.Beyond;
    public RuleSet Rules => rules;
    public OperatorStops OperatorStops { get; }
    public Restarts Restarts { get; }
    public CoolantUse Coolant => coolant;
    public bool FollowedToEnd => followed;
    public long BlocksExecuted { get; private set; }

    /// <summary>The unit in force at the first motion, or at the end when nothing moves.</summary>
    public Units ProgramUnits { get; private set; }

    public void Line(in ControlState state, in Leg leg)
    {
        if (!toolUsed)
            FirstMove(state, leg);
        if (Facts.IsWork(leg.Kind))
        {
            if (!leg.Beside)
                (extent ??= totals.Of(state.Tool, state.WorkOffset)).Count(state, leg);
            if ((leg.Commanded & Axes.Z) != Axes.None)
                CommandedZ(state, leg, leg.To.Z, leg.To.Z);
            if (Math.Min(leg.From.Z, leg.To.Z) - facts.Own < stockBottom && IsPlaced(leg))
                rules.LowMove(state, leg);
        }
        if (travel.IsOutside(leg.To))
            travel.Outside(state, leg.To);
        if (holding.Any)
            holding.Line(state, leg);
        if (material.Any)
            material.Line(state, leg);
        Tell(state, leg);
        clock.Line(state, leg);
    }

    /// <summary>
    /// Straight feed moves that are judged together: nobody wants to see moves one by one, and the box around them keeps clear of
    /// all that a move could be told for. Takes all of them or none.
    /// </summary>
    public int Feeds(in ControlState state, FeedRun run)
    {
        if (!toolUsed || rules.Watching || stops.Due || material.Any || !clock.CanTake(state))
            return 0;
        var box = new RunBox(run);
        if (
            travel.IsOutside(box.Low)
            || travel.IsOutside(box.High)
            || (holding.Any && !holding.IsFree(box.Low, box.High))
        )
            return 0;
        if ((box.CommandsZ && !facts.OwnKnown) || box.Low.Z - facts.Own < stockBottom)
            return 0;
        (extent ??= totals.Of(state.Tool, state.WorkOffset)).Count(state, box);
        if (box.CommandsZ)
            facts.Window.Commanded(state, facts, run, box);
        clock.Lines(state, run);
        return run.Left;
    }

    /// <summary>
    /// A hole of a shape that has been told already, under the same modal state, adds its times and distances; it goes no higher or deeper than that
    /// one did. Told leg by leg where anything can be found that depends on the place.
    /// </summary>
    public bool Hole(in ControlState state, in HoleShape hole, Axes across, in Place over)
    {
        if (!toolUsed || rules.Watching || stops.Due || material.Any || !clock.CanRepeat(state, state.At, over))
            return false;
        if (!facts.OwnKnown || hole.Bottom - facts.Own < stockBottom || travel.IsOutside(over))
            return false;
        var box = new HoleBox(state.At, over, hole);
        if (holding.Any && !holding.IsFree(box.Low, box.High))
            return false;
        if (!keptHole.Is(hole))
        {
            if (across == Axes.None)
                keptHole.Begin(hole);
            return false;
        }
        if (across != Axes.None)
        {
            (extent ??= totals.Of(state.Tool, state.WorkOffset)).Count(state, across, over);
            clock.Across(state.At, over);
        }
        keptHole.Again();
        rules.HoleAgain(hole);
        return true;
    }

    public void HoleTold() => keptHole.End();

    public void Arc(in ControlState state, in Leg leg, in Arc arc)
    {
        if (!toolUsed)
            FirstMove(state, leg);
        if (!leg.Beside)
            (extent ??= totals.Of(state.Tool, state.WorkOffset)).Count(state, leg, arc);
        var (low, high) = arc.Plane switch
        {
            Plane.ZX => (arc.MinU, arc.MaxU),
            Plane.YZ => (arc.MinV, arc.MaxV),
            _ => (leg.To.Z, leg.To.Z),
        };
        if (arc.Plane != Plane.XY || (leg.Commanded & Axes.Z) != Axes.None)
            CommandedZ(state, leg, low, high);
        if (Math.Min(leg.From.Z, low) - facts.Own < stockBottom && IsPlaced(leg))
            rules.LowArc(state, leg, arc);
        travel.Arc(state, leg, arc);
        if (holding.Any)
            holding.Arc(state, leg, arc);
        if (material.Any)
            material.Arc(state, leg, arc);
        if (rules.Watching)
            rules.ArcMove(state, leg, arc);
        Tell(state, leg);
        clock.Arc(state, leg, arc);
    }

    /// <summary>How far the programmed point goes while the tool's centre is beside it.</summary>
    public void Programmed(in ControlState state, in Leg leg)
    {
        if (Facts.IsWork(leg.Kind))
            (extent ??= totals.Of(state.Tool, state.WorkOffset)).Count(state, leg);
    }

    public void Programmed(in ControlState state, in Leg leg, in Arc arc) =>
        (extent ??= totals.Of(state.Tool, state.WorkOffset)).Count(state, leg, arc);

    /// <summary>Where the tip goes is known from end to end.</summary>
    bool IsPlaced(in Leg leg) => facts.OwnKnown && leg.From.IsMachine && leg.To.IsMachine;

    void CommandedZ(in ControlState state, in Leg leg, long low, long high)
    {
        var backToMachineLevel = !leg.Lifted && leg.Part is CyclePart.Out or CyclePart.ToInitial && !leg.Lifted;
        if (!backToMachineLevel)
            facts.Window.Commanded(state, facts, low, high, leg.To.RestZ);
    }

    void Tell(in ControlState state, in Leg leg)
    {
        if (!leg.Lifted || leg.Kind > LegKind.Feed)
            rules.OddMove(state, leg);
        if (rules.Watching)
            rules.Move(state, leg);
        if (leg.Kind == LegKind.Rapid)
            rules.RapidMove(state, leg);
        if (leg.Part != CyclePart.None)
            rules.CycleMove(state, leg);
        if (stops.Due)
            stops.Leg(state, leg);
    }

    /// <summary>The tool counts as used from its first move that counts for something.</summary>
    void FirstMove(in ControlState state, in Leg leg)
    {
        firstUnits ??= state.Units;
        var unknown =
            leg.From.RestX == Place.Nowhere || leg.From.RestY == Place.Nowhere || leg.From.RestZ == Place.Nowhere;
        if (!Facts.IsWork(leg.Kind) && unknown)
            return;
        toolUsed = true;
        var tool = totals.Of(state.Tool);
        tool.Uses++;
        clock.Tool = tool;
    }

    void Take(in ControlState state)
    {
        facts.Take(state);
        holding.Take(state);
        material.Take(state);
    }

    public void Modal(in ControlState state, Changes changes)
    {
        keptHole.Drop();
        if ((changes & Changes.Length) != Changes.None)
        {
            Take(state);
            if (state is { LengthCommanded: true, LengthMode: not LengthMode.Off })
                totals.Of(state.Tool).LengthOffsets.Add(state.H);
        }
        if ((changes & Changes.Compensation) != Changes.None && state.Compensation != CutterCompensation.Off)
            totals.Of(state.Tool).DiameterOffsets.Add(state.D);
        if ((changes & Changes.WorkOffset) != Changes.None)
        {
            extent = null;
            stops.WorkOffset(state.WorkOffset);
        }
        if ((changes & Changes.Stop) != Changes.None)
            clock.Rest();
        if ((changes & Changes.Coolant) != Changes.None)
            coolant.Look(state);
        OperatorStops.Modal(state, changes);
        rules.Modal(state, changes);
    }

    public void ToolChange(in ControlState state, int previousTool, in Place before)
    {
        keptHole.Drop();
        Take(state);
        var tool = totals.Of(state.Tool);
        tool.Uses++;
        toolUsed = true;
        extent = null;
        stops.ToolChange();
        clock.ToolChange(tool);
        coolant.Look(state);
        Restarts.ToolChange(state);
        rules.ToolChange(state, previousTool, before);
        rules.Look(state);
    }

    public void RegisterWritten(in ControlState state, in RegisterWrite write)
    {
        keptHole.Drop();
        extent = null;
        Restarts.RegisterWritten();
        rules.RegisterWritten(state, write);
    }

    public void ShiftSet(in ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ)
    {
        keptHole.Drop();
        Restarts.ShiftSet(kind, axes);
        rules.ShiftSet(state, kind, axes, fromMachineZ);
    }

    public void Dwell(double seconds) => clock.Dwell(seconds);

    public void BlockEnd()
    {
        stops.BlockEnd();
        keptHole.BlockEnd();
    }

    public void Fault(in ControlState state, in Fault fault)
    {
        keptHole.Drop();
        if (fault.Kind is FaultKind.CannotFollow or FaultKind.CannotRead or FaultKind.NeverEnds)
            followed = false;
        rules.Fault(state, fault);
    }

    public void End(in ControlState state, RunEnd end)
    {
        clock.Rest();
        if (end == RunEnd.Limit)
            followed = false;
        BlocksExecuted = state.BlocksExecuted;
        ProgramUnits = firstUnits ?? state.Units;
        rules.End(state, end);
    }
}
