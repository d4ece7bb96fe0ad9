using Handwheel.Nc;

namespace Handwheel.Jobs.Setups;

/// <summary>What a program uses: tools, registers, feeds and speeds.</summary>
sealed class ProgramSurvey
{
    readonly Dictionary<int, SurveyedTool> tools = [];

    public Units? Units { get; private set; }

    /// <summary>Followed to an end without a fault.</summary>
    public bool Ended { get; private set; }
    bool faulty;

    /// <summary>In the order of their first use.</summary>
    public List<SurveyedTool> Tools { get; } = [];
    public HashSet<WorkOffsetName> WorkOffsets { get; } = [];

    public void See(in ControlState state)
    {
        if (state.UnitsStated)
            Units ??= state.Units;
    }

    public SurveyedTool Tool(in ControlState state)
    {
        if (tools.TryGetValue(state.Tool, out var tool))
            return tool;
        tools[state.Tool] = tool = new(state.Tool, state.File == 0 ? state.Line : 0);
        Tools.Add(tool);
        return tool;
    }

    public void Leg(in ControlState state, in Leg leg)
    {
        var inWork = leg.Kind is LegKind.Rapid or LegKind.Feed or LegKind.ReturnVia;
        if (inWork && state.WorkOffsetStated)
            WorkOffsets.Add(state.WorkOffset);
        else if (inWork)
            WorkOffsets.Add(WorkOffsetName.G54);
        if (!inWork && leg.Kind != LegKind.MachineFeed)
            return;
        var tool = Tool(state);
        tool.Registers(state, inWork);
        if (leg.Kind is LegKind.Feed or LegKind.MachineFeed)
            tool.Feed(state, leg.Tapping);
    }

    public void Fault() => faulty = true;

    public void End(RunEnd end) => Ended = !faulty && end != RunEnd.Limit;
}

/// <param name="FirstLine">Line of the first tool change in the main program; 0 where it is in another file.</param>
sealed class SurveyedTool(int number, int firstLine)
{
    readonly SortedSet<int> lengthOffsets = [];
    readonly SortedSet<int> diameterOffsets = [];
    readonly SortedSet<WorkOffsetName> workOffsets = [];
    (double Low, double High)? speed;
    (double Low, double High)? perMinute;
    (double Low, double High)? perRevolution;
    bool taps;

    public int Number => number;
    public int FirstLine => firstLine;

    public void Registers(in ControlState state, bool inWork)
    {
        if (state.LengthMode != LengthMode.Off && state.LengthCommanded)
            lengthOffsets.Add(state.H);
        if (state.Compensation != CutterCompensation.Off)
            diameterOffsets.Add(state.D);
        if (inWork)
            workOffsets.Add(state.WorkOffset);
    }

    public void Feed(in ControlState state, bool tapping)
    {
        taps |= tapping;
        if (state.Spindle != SpindleDirection.Stopped)
            speed = Wider(speed, state.SpindleSpeed);
        if (!state.FeedGiven)
            return;
        if (state.FeedMode == FeedMode.PerMinute)
            perMinute = Wider(perMinute, state.Feed);
        else if (state.FeedMode == FeedMode.PerRevolution)
            perRevolution = Wider(perRevolution, state.Feed);
    }

    static (double, double) Wider((double Low, double High)? range, double value) =>
        range is { } known ? (Math.Min(known.Low, value), Math.Max(known.High, value)) : (value, value);

    public ToolSeen Seen(Units units, string comment) =>
        new()
        {
            Tool = number,
            Comment = comment,
            LengthOffsets = [.. lengthOffsets],
            DiameterOffsets = [.. diameterOffsets],
            WorkOffsets = [.. workOffsets],
            Speed = In(speed, 1),
            FeedPerMinute = In(perMinute, units.Nanometres()),
            FeedPerRevolution = In(perRevolution, units.Nanometres()),
            Taps = taps,
        };

    static (decimal, decimal)? In((double Low, double High)? range, double unit) =>
        range is { } known ? (Rounded(known.Low / unit), Rounded(known.High / unit)) : null;

    static decimal Rounded(double value) => decimal.Round((decimal)Math.Clamp(value, 0, 1e12), 6);
}

readonly struct SurveySink(ProgramSurvey survey) : IMotionSink
{
    public void Modal(ref readonly ControlState state, Changes changes) => survey.See(state);

    public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) =>
        survey.Tool(state);

    public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

    public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

    public void Line(ref readonly ControlState state, ref readonly Leg leg) => survey.Leg(state, leg);

    public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) =>
        survey.Leg(state, leg);

    public void Dwell(ref readonly ControlState state, double seconds) { }

    public void BlockEnd(ref readonly ControlState state) { }

    public void Fault(ref readonly ControlState state, in Fault fault) => survey.Fault();

    public void End(ref readonly ControlState state, RunEnd end) => survey.End(end);
}
