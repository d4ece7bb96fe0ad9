using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>Path lengths and run time, tool by tool.</summary>
sealed class PathClock
{
    const double PicosecondsPerSecond = 1e12;

    readonly FeedChain chain;
    readonly Rates rapid;
    readonly Rates acceleration;
    readonly RestToRest rapidX,
        rapidY,
        rapidZ;
    readonly double maxFeed;
    readonly bool instant;
    readonly bool rapidKnown;
    readonly double toolChangeSeconds;
    long picoseconds;

    public PathClock(Setup setup)
    {
        var nm = (double)setup.Units.Nanometres();
        var machine = setup.Machine;
        rapidKnown = machine.Rapid is not null;
        rapid = Rates.From(machine.Rapid, nm / 60);
        acceleration = Rates.From(machine.Acceleration, nm);
        instant = machine.Acceleration is null;
        rapidX = new(rapid.X, acceleration.X);
        rapidY = new(rapid.Y, acceleration.Y);
        rapidZ = new(rapid.Z, acceleration.Z);
        maxFeed = machine.MaxFeed is { } feed ? (double)feed * nm / 60 : double.PositiveInfinity;
        toolChangeSeconds = (double)machine.ToolChangeSeconds;
        chain = new FeedChain(machine.CornerTolerance?.Nanometres ?? -1, rapid, acceleration);
    }

    /// <summary>The tool that time and distance are counted for.</summary>
    public required ToolTotals Tool
    {
        get;
        set
        {
            TakeCut();
            field = value;
        }
    }

    public bool CutUnknown { get; private set; }
    public bool RapidUnknown { get; private set; }
    public long CutPicometres { get; private set; }
    public long RapidPicometres { get; private set; }

    /// <summary>Rapid rates are given and every length is known.</summary>
    public bool TimeKnown => rapidKnown && !CutUnknown && !RapidUnknown;

    public decimal? Programmed => TimeKnown ? Totals.Seconds(picoseconds) : null;

    public void Line(in ControlState state, in Leg leg)
    {
        if (!HasLength(leg))
            return;
        var dx = leg.To.X - leg.From.X;
        var dy = leg.To.Y - leg.From.Y;
        var dz = leg.To.Z - leg.From.Z;
        if ((dx | dy | dz) == 0)
            return;
        if (!Facts.IsFeed(leg.Kind))
        {
            Rapid(dx, dy, dz);
            return;
        }
        if (state.FeedMode == FeedMode.InverseTime || instant || Speed(state, 0) is not (> 0 and var speed))
        {
            LineAlone(state, dx, dy, dz);
            return;
        }
        Spend(chain.AddLine(dx, dy, dz, speed));
        if (state.ExactStop)
            Rest();
    }

    /// <summary>Straight feed moves between known places may be told by <see cref="Lines"/>.</summary>
    public bool CanTake(in ControlState state) =>
        !state.ExactStop && !instant && state.FeedMode != FeedMode.InverseTime && Speed(state, 0) > 0;

    /// <summary>A run of straight feed moves, as <see cref="Line"/> would take them one by one.</summary>
    public void Lines(in ControlState state, FeedRun run)
    {
        var speed = Speed(state, 0);
        var x = run.Places(0);
        var y = run.Places(1);
        var z = run.Places(2);
        for (var done = 0; done < run.Left; )
            Spend(chain.AddLines(x[done..], y[done..], z[done..], speed, ref done));
    }

    /// <summary>A feed move whose length the chain cannot be left to work out: it sets the speed, or nothing is chained.</summary>
    void LineAlone(in ControlState state, double dx, double dy, double dz)
    {
        var length = Straight(dx, dy, dz);
        Cut(length);
        var speed = Speed(state, length);
        if (speed <= 0)
        {
            Rest();
            return;
        }
        speed = Math.Min(speed, rapid.Along(dx, dy, dz, length));
        var tangent = new Tangent(dx / length, dy / length, dz / length);
        Feed(state, new FeedMove(length, speed, acceleration.Smallest(dx != 0, dy != 0, dz != 0), tangent, tangent));
    }

    public void Arc(in ControlState state, in Leg leg, in Arc arc)
    {
        if (!HasLength(leg) || arc.Length <= 0)
            return;
        Cut(arc.Length);
        var speed = Speed(state, arc.Length);
        if (speed <= 0)
        {
            Rest();
            return;
        }
        var path = new ArcPath(leg, arc);
        speed = Math.Min(speed, path.SpeedLimit(rapid));
        Feed(state, new FeedMove(arc.Length, speed, path.Acceleration(acceleration), path.Start, path.End));
    }

    /// <summary>Nothing is in the chain or still to be counted when the hole begins, and its feed moves depend on nothing but their lengths.</summary>
    public bool CanRepeat(in ControlState state, in Place at, in Place over) =>
        (chain.IsAtRest || at.X != over.X || at.Y != over.Y)
        && !state.ExactStop
        && state.FeedMode != FeedMode.InverseTime;

    /// <summary>A rapid between known places of one height.</summary>
    public void Across(in Place from, in Place to)
    {
        if (from.X != to.X || from.Y != to.Y)
            Rapid(to.X - from.X, to.Y - from.Y, 0);
    }

    /// <summary>What is counted so far, without the moves that are in the chain.</summary>
    public ClockSums Sums => new(picoseconds, CutPicometres, RapidPicometres);

    /// <summary>The moves in the chain, where they are so few and so plain that they can be added again.</summary>
    public bool TryPending(List<LineMove> moves) => chain.TryLines(moves);

    /// <summary>Counts a piece of the path once more, with the moves that it leaves in the chain.</summary>
    public void Again(in ClockSums sums, List<LineMove> pending)
    {
        picoseconds += sums.Picoseconds;
        Tool.Picoseconds += sums.Picoseconds;
        CountCut(sums.CutPicometres);
        RapidPicometres += sums.RapidPicometres;
        Tool.RapidPicometres += sums.RapidPicometres;
        foreach (var move in pending)
            Spend(chain.AddLine(move.X, move.Y, move.Z, move.Speed));
    }

    public void Dwell(double seconds)
    {
        Rest();
        Spend(seconds);
    }

    /// <summary>The path comes to rest here.</summary>
    public void Rest()
    {
        Spend(chain.Stop());
        TakeCut();
    }

    public void ToolChange(ToolTotals incoming)
    {
        Rest();
        Tool = incoming;
        Spend(toolChangeSeconds);
    }

    void Rapid(double dx, double dy, double dz)
    {
        Rest();
        var picometres = Picometres(Straight(dx, dy, dz));
        RapidPicometres += picometres;
        Tool.RapidPicometres += picometres;
        if (!rapidKnown)
            return;
        var (x, y, z) = (rapidX.Seconds(dx), rapidY.Seconds(dy), rapidZ.Seconds(dz));
        Spend(Math.Max(x, Math.Max(y, z)));
    }

    void Cut(double length) => CountCut(Picometres(length));

    void CountCut(long picometres)
    {
        CutPicometres += picometres;
        Tool.CutPicometres += picometres;
    }

    /// <summary>Counts the straight moves that the chain has measured.</summary>
    void TakeCut()
    {
        if (chain.TakePicometres() is not 0 and var picometres)
            CountCut(picometres);
    }

    void Feed(in ControlState state, in FeedMove move)
    {
        if (instant)
        {
            Spend(move.Length / move.Speed);
            return;
        }
        Spend(chain.Add(move));
        if (state.ExactStop)
            Rest();
    }

    /// <summary>False: the length is not known. From the place at the start, which nobody knows, a move has no length.</summary>
    bool HasLength(in Leg leg)
    {
        if (((leg.From.RestX ^ leg.To.RestX) | (leg.From.RestY ^ leg.To.RestY) | (leg.From.RestZ ^ leg.To.RestZ)) == 0)
            return true;
        Rest();
        if (FromNowhere(leg))
            return false;
        if (Facts.IsFeed(leg.Kind))
            CutUnknown = Tool.CutUnknown = true;
        else
            RapidUnknown = Tool.RapidUnknown = true;
        return false;
    }

    static bool FromNowhere(in Leg leg) =>
        (leg.From.RestX == Place.Nowhere && leg.To.RestX != Place.Nowhere)
        || (leg.From.RestY == Place.Nowhere && leg.To.RestY != Place.Nowhere)
        || (leg.From.RestZ == Place.Nowhere && leg.To.RestZ != Place.Nowhere);

    double Speed(in ControlState state, double length) => FeedSpeed.Of(state, length, maxFeed);

    static double Straight(double dx, double dy, double dz) => Math.Sqrt(dx * dx + dy * dy + dz * dz);

    public static long Picometres(double nm) => (long)Math.Round(nm * 1000);

    void Spend(double seconds)
    {
        if (seconds <= 0)
            return;
        var whole = (long)Math.Round(seconds * PicosecondsPerSecond);
        picoseconds += whole;
        Tool.Picoseconds += whole;
    }
}

/// <summary>Time and distances; the difference of two is what lies between.</summary>
readonly record struct ClockSums(long Picoseconds, long CutPicometres, long RapidPicometres)
{
    public static ClockSums operator -(ClockSums to, ClockSums from) =>
        new(
            to.Picoseconds - from.Picoseconds,
            to.CutPicometres - from.CutPicometres,
            to.RapidPicometres - from.RapidPicometres
        );
}

/// <summary>A rate for each axis; infinite where none is given. Speeds in nm/s, accelerations in nm/s².</summary>
readonly record struct Rates(double X, double Y, double Z)
{
    public static Rates From(AxisRates? rates, double scale) =>
        rates is { } given
            ? new((double)given.X * scale, (double)given.Y * scale, (double)given.Z * scale)
            : new(double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity);

    /// <summary>The speed along a straight move at which the first axis reaches its rate.</summary>
    public double Along(double dx, double dy, double dz, double length)
    {
        var limit = double.PositiveInfinity;
        if (dx != 0)
            limit = Math.Min(limit, X * length / Math.Abs(dx));
        if (dy != 0)
            limit = Math.Min(limit, Y * length / Math.Abs(dy));
        if (dz != 0)
            limit = Math.Min(limit, Z * length / Math.Abs(dz));
        return limit;
    }

    /// <summary>The smallest of the axes that move.</summary>
    public double Smallest(bool x, bool y, bool z) =>
        Math.Min(
            x ? X : double.PositiveInfinity,
            Math.Min(y ? Y : double.PositiveInfinity, z ? Z : double.PositiveInfinity)
        );
}
