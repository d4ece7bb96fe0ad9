namespace Handwheel.Jobs.Checking;

/// <summary>
/// What <c>handwheel check</c> found: the document <c>handwheel-check/1</c>, field for field. Lengths are in the
/// setup's units with at most 6 decimals, times in seconds; null means that the figure rests on something not known.
/// </summary>
public sealed record CheckResult
{
    public string Format { get; init; } = "handwheel-check/1";
    public required ProgramFacts Program { get; init; }
    public required IReadOnlyList<ToolUse> Tools { get; init; }
    public required IReadOnlyList<WorkOffsetUse> WorkOffsets { get; init; }
    public required AirCut AirCut { get; init; }
    public required IReadOnlyList<Stop> Stops { get; init; }
    public required RunTime RunTime { get; init; }
    public BlockDeleteSwitch BlockDelete { get; init; } = new(false, 0);

    /// <summary>Where the program waits for a person (M0, M1).</summary>
    public IReadOnlyList<OperatorStop> OperatorStops { get; init; } = [];

    /// <summary>For each block that brings a tool in, what a start there needs.</summary>
    public IReadOnlyList<Restart> Restarts { get; init; } = [];

    /// <summary>The nearest pass to each piece of holding, even when it clears, in the setup's order.</summary>
    public IReadOnlyList<NearestPass> NearestPasses { get; init; } = [];

    /// <summary>What each tool takes off, where the stock was followed to the end.</summary>
    public IReadOnlyList<ToolMaterial> Material { get; init; } = [];

    /// <summary>The stock as the program leaves it, for the picture; not part of the document.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public AsCut AsCut { get; init; } = AsCut.NotShown("nobody asked for it");

    /// <summary>The cutting table that speeds, chip loads and depths were judged by; null: no blank names its material.</summary>
    public CuttingDataUsed? CuttingData { get; init; }
    public required IReadOnlyList<string> NotChecked { get; init; }
    public required IReadOnlyList<Finding> Findings { get; init; }
}

public sealed record ProgramFacts
{
    public required string Name { get; init; }

    /// <summary>Lower-case hex of the file's bytes.</summary>
    public required string Sha256 { get; init; }
    public long Bytes { get; init; }
    public int Lines { get; init; }
    public long BlocksExecuted { get; init; }
    public required string Units { get; init; }
    public bool FollowedToEnd { get; init; }

    /// <summary>The files that calls led to, in the order in which they were opened.</summary>
    public IReadOnlyList<SubprogramUse> Subprograms { get; init; } = [];

    /// <summary>Values of parameters that somebody gave and that the result rests on.</summary>
    public IReadOnlyList<AssumedParameter> Assumed { get; init; } = [];

    /// <summary>Parameters that the program reads and that only the person at the control can know; following ended in a guess there.</summary>
    public IReadOnlyList<AskedParameter> AsksFor { get; init; } = [];
}

/// <summary>A subprogram in a file of its own.</summary>
public sealed record SubprogramUse
{
    /// <summary>As it is called: <c>O1234</c>, or its name.</summary>
    public required string Called { get; init; }
    public required string File { get; init; }

    /// <summary>Lower-case hex of the file's bytes.</summary>
    public required string Sha256 { get; init; }

    /// <summary>Line of the first call.</summary>
    public int Line { get; init; }

    /// <summary>The subprogram's file that <see cref="Line"/> counts in; null: the main program.</summary>
    public string? From { get; init; }
}

/// <param name="Parameter">501 for <c>#501</c>.</param>
public sealed record AssumedParameter(int Parameter, decimal Value);

/// <param name="Parameter">501 for <c>#501</c>.</param>
/// <param name="File">The subprogram's file that <paramref name="Line"/> counts in; null: the main program.</param>
public sealed record AskedParameter(int Parameter, int Line, string? File, string Block);

/// <summary>Bounds per axis as [low, high]; null where no block commands the axis, or where it is not known.</summary>
public sealed record Bounds(decimal[]? X, decimal[]? Y, decimal[]? Z);

public sealed record ToolUse
{
    public int Tool { get; init; }
    public int Uses { get; init; }
    public required IReadOnlyList<int> LengthOffsets { get; init; }
    public required IReadOnlyList<string> WorkOffsets { get; init; }

    /// <summary>D of every cutter compensation that came on with this tool; null: not told.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public IReadOnlyList<int>? DiameterOffsets { get; init; }
    public decimal? LowestTip { get; init; }
    public decimal? HighestMachineZ { get; init; }
    public decimal? CutDistance { get; init; }
    public decimal? RapidDistance { get; init; }
    public decimal? Seconds { get; init; }

    /// <summary><c>mist</c> (M7), <c>flood</c> (M8), as commanded while the tool is in the spindle.</summary>
    public IReadOnlyList<string> Coolant { get; init; } = [];
    public required Bounds Bounds { get; init; }
}

/// <summary>How blocks with a slash were taken.</summary>
/// <param name="On">The switch was on: they were passed over.</param>
/// <param name="Blocks">How many different ones were executed.</param>
public sealed record BlockDeleteSwitch(bool On, int Blocks);

/// <summary>A block at which the program waits for a person.</summary>
public sealed record OperatorStop
{
    /// <summary>From 1, in the order in which the program first gets there.</summary>
    public int Number { get; init; }

    /// <summary><c>M0</c>; <c>M1</c>, which waits only with the optional stop on; <c>stop</c>: written another way.</summary>
    public required string Kind { get; init; }

    /// <summary>In the spindle at that moment.</summary>
    public int Tool { get; init; }
    public int Line { get; init; }

    /// <summary>The subprogram's file that <see cref="Line"/> counts in; null: the main program.</summary>
    public string? File { get; init; }
    public required string Block { get; init; }

    /// <summary>The comment beside it; empty: none.</summary>
    public string Instruction { get; init; } = "";

    /// <summary>Where the comment stands: <c>block</c>, or on lines of their own <c>before</c> or <c>after</c> it; null: there is none.</summary>
    public string? InstructionFrom { get; init; }

    /// <summary>How often the block is executed.</summary>
    public int Times { get; init; } = 1;
}

/// <summary>A block that brings a tool in, as the place to start that tool again.</summary>
public sealed record Restart
{
    public int Tool { get; init; }
    public int Line { get; init; }

    /// <summary>The subprogram's file that <see cref="Line"/> counts in; null: the main program.</summary>
    public string? File { get; init; }
    public required string Block { get; init; }

    /// <summary>The first tool: the program is started from its beginning.</summary>
    public bool FromTheTop { get; init; }

    /// <summary>Modal words after the block in the computed run, which the control must have too; a work offset only where nothing states it again.</summary>
    public IReadOnlyList<string> InForce { get; init; } = [];

    /// <summary>What the tool's moves rely on although nothing states it after the block.</summary>
    public IReadOnlyList<string> NotStated { get; init; } = [];

    /// <summary>What else a start here must not be thought to have.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];
}

public sealed record WorkOffsetUse(string Name, decimal? Lowest, Bounds Bounds);

public sealed record AirCut
{
    public bool Possible { get; init; }
    public decimal? MinimumRaise { get; init; }
    public decimal? MaximumRaise { get; init; }
    public decimal? SuggestedRaise { get; init; }
    public string? Why { get; init; }
    public required IReadOnlyList<RaisedRegister> Registers { get; init; }
}

public sealed record RaisedRegister(string WorkOffset, string Axis, decimal? Baseline, decimal? Raised);

/// <summary>A value per axis; null where it cannot be known.</summary>
public sealed record AxisValues(decimal? X, decimal? Y, decimal? Z);

public sealed record Stop
{
    public int Number { get; init; }

    /// <summary><c>position</c>, <c>approach</c> or <c>entry</c>.</summary>
    public required string Kind { get; init; }
    public int Tool { get; init; }
    public int? LengthOffset { get; init; }
    public required string WorkOffset { get; init; }
    public int Line { get; init; }

    /// <summary>The subprogram's file that <see cref="Line"/> counts in; null: the main program.</summary>
    public string? File { get; init; }
    public required string Block { get; init; }
    public required AxisValues From { get; init; }
    public required AxisValues To { get; init; }
    public required AxisValues MachineTo { get; init; }
    public required AxisValues MachineToRaised { get; init; }
    public required AxisValues DistanceToGo { get; init; }
    public required AxisValues DistanceToGoRaised { get; init; }
    public decimal? TipAbovePartZero { get; init; }
    public decimal? TipAbovePartZeroRaised { get; init; }
    public decimal? AirBelowRaised { get; init; }
    public string? Below { get; init; }
    public string? Gauge { get; init; }
}

public sealed record RunTime(decimal? Programmed, IReadOnlyList<AirCutTime> AirCut);

/// <summary>One pair of the machine's air cut rates, units/min, and how long the air cut takes at it.</summary>
/// <param name="Seconds">Null where a length is not known.</param>
public sealed record AirCutTime(decimal Cut, decimal Rapid, decimal RapidOverride, decimal? Seconds)
{
    /// <summary>In order of first use; where <see cref="AirCutTime.Seconds"/> is known they add up to it.</summary>
    public IReadOnlyList<ToolSeconds> Tools { get; init; } = [];
}

/// <summary>The time of one tool over all its uses; null where a length of its is not known.</summary>
public sealed record ToolSeconds(int Tool, decimal? Seconds);

/// <summary>Where tool or holder come nearest to a piece of holding: the place to look at.</summary>
public sealed record NearestPass
{
    /// <summary>From 1, in the setup's order; the number that marks the place in the pictures.</summary>
    public int Number { get; init; }
    public required string Holding { get; init; }
    public int Tool { get; init; }
    public int Line { get; init; }

    /// <summary>The subprogram's file that <see cref="Line"/> counts in; null: the main program.</summary>
    public string? File { get; init; }
    public required string Block { get; init; }

    /// <summary>Between the surfaces; 0: through it.</summary>
    public decimal Distance { get; init; }

    /// <summary>The work offset that the setup places the holding by.</summary>
    public string WorkOffset { get; init; } = "";

    /// <summary>Where the tip is at that moment, from the zero of <see cref="WorkOffset"/> as the setup gives it.</summary>
    public AxisValues At { get; init; } = new(null, null, null);

    /// <summary><c>above</c>, <c>beside</c>, <c>edge</c> (above and beside at once) or <c>through</c>.</summary>
    public required string Side { get; init; }

    /// <summary><c>tool</c> or <c>holder</c>.</summary>
    public required string Part { get; init; }
    public required string Message { get; init; }
}

/// <summary>What a tool takes off over the whole program, from a grid over the stock.</summary>
public sealed record ToolMaterial
{
    public int Tool { get; init; }

    /// <summary>Cubic units.</summary>
    public decimal Removed { get; init; }

    /// <summary>Deepest cut of one move, upright.</summary>
    public decimal Depth { get; init; }

    /// <summary>Widest level cut of one move, on average over it; null where no level move is long enough.</summary>
    public decimal? Width { get; init; }

    /// <summary>Cubic units a minute, on average over the moves that take something off; null where a feed is not known.</summary>
    public decimal? RemovalRate { get; init; }
}

/// <param name="Sha256">Lower-case hex of the table's canonical text.</param>
public sealed record CuttingDataUsed(string Name, string Sha256);

public enum Level
{
    Note,
    Check,
    Stop,
}

/// <summary>A fact about this program with this setup, tied to a line.</summary>
public sealed record Finding
{
    public required string Id { get; init; }
    public required Level Level { get; init; }

    /// <summary>From 1; 0 when it concerns the whole program or the setup.</summary>
    public int Line { get; init; }

    /// <summary>The subprogram's file that <see cref="Line"/> counts in; null: the main program.</summary>
    public string? File { get; init; }
    public string Block { get; init; } = "";
    public int? Tool { get; init; }
    public required string Message { get; init; }
    public required string Remedy { get; init; }
}
