namespace Handwheel.Nc;

/// <summary>How the move on which G41 or G42 comes on ends.</summary>
public enum CompensationEntry : byte
{
    /// <summary>Square to the beginning of the move after it (common practice).</summary>
    Square,

    /// <summary>As Square at an inside corner; at an outside one square to itself, and round the corner from there (common practice).</summary>
    Around,

    /// <summary>On the tangent from the programmed end to the cutter where it stands (NISTIR 6556, B.6).</summary>
    Tangent,
}

/// <summary>How the tool goes round an outside corner.</summary>
public enum CompensationCorners : byte
{
    /// <summary>On an arc about the corner (NISTIR 6556, B.6).</summary>
    Arc,

    /// <summary>Straight on until the two ways meet (common practice).</summary>
    Lines,
}

/// <summary>Where the move after G40 leads.</summary>
public enum CompensationExit : byte
{
    /// <summary>To the programmed place in both axes, whichever are named; G91 counts from the programmed place (common practice).</summary>
    ToProgrammed,

    /// <summary>As if the tool had been sent to where it stands: an axis that is not named stays, G91 counts from there (NISTIR 6556, B.6).</summary>
    FromCentre,
}

/// <summary>How this machine's control reads what programs leave open. Data of the setup; never a maker's name.</summary>
public sealed record Reads
{
    public bool ArcCentresAbsolute { get; init; }

    /// <summary>How far the two radii of an arc may differ, nm. Null: 0.0005 in or 0.01 mm, by the setup's units.</summary>
    public long? ArcTolerance { get; init; }

    /// <summary>True: a length without a point counts least increments; false: whole units.</summary>
    public bool WholeNumbersAreIncrements { get; init; }
    public bool DwellPIsSeconds { get; init; }

    /// <summary>The address after M98 that names the subprogram: P unless the control wants another.</summary>
    public string SubprogramCall { get; init; } = "P";

    /// <summary>G73 backs off by this much, nm.</summary>
    public long PeckRetract { get; init; }

    /// <summary>G83 comes back to this far above the last depth, nm.</summary>
    public long PeckClearance { get; init; }
    public bool LengthOffsetCancelledByToolChange { get; init; }

    /// <summary>True: the axis moves at once when G43 is read; false: with the next Z move.</summary>
    public bool LengthOffsetMovesAtOnce { get; init; }
    public bool ReferenceReturnCancelsLength { get; init; }
    public bool ToolChangeRetracts { get; init; } = true;

    /// <summary>True: the diameter register holds a radius.</summary>
    public bool DiameterRegisterIsRadius { get; init; }
    public CompensationEntry CompensationEntry { get; init; }
    public CompensationCorners CompensationCorners { get; init; }

    /// <summary>True: at an inside corner the centre turns where its two ways cross (common practice); false: it is an error (NISTIR 6556, B.5.1).</summary>
    public bool CompensationInsideCorners { get; init; } = true;
    public CompensationExit CompensationExit { get; init; }

    /// <summary>True: FIX goes toward 0 and FUP away from it (common practice); false: FIX down and FUP up (NISTIR 6556, 3.3.2.4).</summary>
    public bool FixIsTowardZero { get; init; } = true;

    /// <summary>True: AND OR XOR go bit by bit over whole numbers (common practice); false: what is not 0 is true (NISTIR 6556, 3.3.2.3).</summary>
    public bool LogicIsBitwise { get; init; } = true;
}

/// <summary>Three register values, nm; null where the setup gives none.</summary>
public readonly record struct OffsetValue(long? X, long? Y, long? Z);

/// <summary>What following a program needs to know of the control: its habits and its registers. Lengths in nm.</summary>
public sealed record ControlSettings
{
    public required Units Units { get; init; }
    public Reads Reads { get; init; } = new();

    /// <summary>Least increment of the registers, nm.</summary>
    public required long LeastIncrement { get; init; }
    public IReadOnlyDictionary<WorkOffsetName, OffsetValue> WorkOffsets { get; init; } =
        new Dictionary<WorkOffsetName, OffsetValue>();
    public OffsetValue CommonOffset { get; init; } = new(0, 0, 0);

    /// <summary>Length register H → value with its wear, nm. H0 is 0 and need not be here.</summary>
    public IReadOnlyDictionary<int, long> LengthOffsets { get; init; } = new Dictionary<int, long>();

    /// <summary>Diameter register D → value with its wear, nm.</summary>
    public IReadOnlyDictionary<int, long> DiameterOffsets { get; init; } = new Dictionary<int, long>();

    /// <summary>The wear that is contained in <see cref="LengthOffsets"/>, nm; 0 where none is named. For programs that write registers.</summary>
    public IReadOnlyDictionary<int, long> LengthWears { get; init; } = new Dictionary<int, long>();

    /// <summary>The wear that is contained in <see cref="DiameterOffsets"/>, nm; 0 where none is named.</summary>
    public IReadOnlyDictionary<int, long> DiameterWears { get; init; } = new Dictionary<int, long>();

    /// <summary>Where G28 and G30 end, machine coordinates; null where not given.</summary>
    public OffsetValue Reference { get; init; }
    public OffsetValue SecondReference { get; init; }

    /// <summary>Where a tool change leaves Z, machine coordinates; null: not known.</summary>
    public long? ToolChangeZ { get; init; }

    /// <summary>Codes that move nothing and change nothing that matters here, normalised: <c>G8</c>, <c>M41</c>.</summary>
    public IReadOnlySet<string> Harmless { get; init; } = new HashSet<string>();

    /// <summary>Codes that switch off feed hold, single block or overrides, normalised.</summary>
    public IReadOnlySet<string> SuppressesHolds { get; init; } = new HashSet<string>();

    /// <summary>The tool in the spindle at the start: the only tool of the setup, or 0.</summary>
    public int FirstTool { get; init; }
}

/// <summary>Choices of one run, and the limits that end it. Reaching a limit is a fault, never silence.</summary>
public sealed record RunOptions
{
    /// <summary>True: blocks that begin with a slash are skipped.</summary>
    public bool BlockDelete { get; init; }
    public long BlocksMost { get; init; } = 50_000_000;
    public int CallsDeepest { get; init; } = 10;

    /// <summary>Finds a subprogram that is not in the file: its bytes, or null.</summary>
    public Func<CalledProgram, byte[]?>? Subprogram { get; init; }

    /// <summary>Values of parameters that only the person at the control can know.</summary>
    public IReadOnlyDictionary<int, double> Parameters { get; init; } = new Dictionary<int, double>();
    public CancellationToken Stop { get; init; }

    /// <summary>True: plain blocks are read in the general way too. Slower, same result; for tests.</summary>
    public bool GeneralPathOnly { get; init; }

    /// <summary>Takes straight feed moves many at a time; null: every move is told to the sink.</summary>
    public FeedTaker? Feeds { get; init; }

    /// <summary>Takes holes of canned cycles that are like one before; null: every leg is told to the sink.</summary>
    public HoleTaker? Holes { get; init; }

    /// <summary>The hole that <see cref="Holes"/> did not take has been told leg by leg.</summary>
    public Action? HoleTold { get; init; }
}
