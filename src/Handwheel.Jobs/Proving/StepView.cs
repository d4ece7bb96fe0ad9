using System.Text.Json.Serialization;

namespace Handwheel.Jobs.Proving;

[JsonConverter(typeof(JsonStringEnumConverter<Phase>))]
public enum Phase
{
    Ready,
    AirCut,
    Restore,
    FirstCut,
    FirstPiece,
    Release,

    /// <summary>Registers read back after a handoff or an interruption; any time.</summary>
    ReadBack,

    /// <summary>The machine's own list; any time.</summary>
    Parking,
}

/// <summary>What a step takes from the person.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<Takes>))]
public enum Takes
{
    /// <summary>The app decides; nothing to press.</summary>
    Nothing,

    /// <summary><see cref="FindingsSeen"/>.</summary>
    Seen,

    /// <summary><see cref="Ticked"/>.</summary>
    Tick,

    /// <summary><see cref="Ticked"/> with words.</summary>
    TickWithWords,

    /// <summary><see cref="Ticked"/> for agrees, <see cref="Differs"/> for differs.</summary>
    AgreesOrDiffers,

    /// <summary><see cref="ReadingTyped"/>: a length in the setup's units.</summary>
    Reading,

    /// <summary><see cref="ReadingTyped"/>: a percentage.</summary>
    Percent,

    /// <summary><see cref="LineTyped"/> or <see cref="SavedProgramCompared"/>.</summary>
    ProgramLine,

    /// <summary><see cref="FirstPieceMeasured"/>.</summary>
    Measurement,

    /// <summary><see cref="Signed"/>.</summary>
    Signature,

    /// <summary><see cref="DeviationSigned"/> by a supervisor.</summary>
    SupervisorsReason,

    /// <summary><see cref="OtherWaySigned"/>.</summary>
    OtherWay,

    /// <summary><see cref="PhotoAdded"/> that names the step.</summary>
    Photo,
}

[JsonConverter(typeof(JsonStringEnumConverter<StepState>))]
public enum StepState
{
    /// <summary>Waits for other steps: <see cref="StepView.WaitsFor"/>.</summary>
    Waiting,
    Open,

    /// <summary>Typed wrong once: the display is read again.</summary>
    ReadAgain,

    /// <summary>Typed wrong twice: what it should be is shown.</summary>
    Refused,

    /// <summary>Something differs and is not settled.</summary>
    Held,
    Done,

    /// <summary>A supervisor signed for it.</summary>
    Deviation,

    /// <summary>Read back, and not as it should be: taken over as a hazard.</summary>
    Hazard,
}

/// <summary>A figure that is there to be compared, as the control or the eye shows it.</summary>
public sealed record Figure(string Name, string Value, string Unit);

/// <summary>A person did something to a step.</summary>
/// <param name="Kept">The entry waited on its tablet without connection; null: it did not.</param>
public sealed record Doer(
    string Name,
    DateTimeOffset At,
    string Tablet,
    long Entry,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] KeptOnTablet? Kept = null
);

/// <summary>
/// A step as floor and desk show it. There is no member for the expected value of a blind reading: <see cref="Shows"/>
/// is filled only once it may be seen, and what was typed into a register is left out while the same register is still
/// to be read blind.
/// </summary>
public sealed record StepView
{
    public required string Id { get; init; }
    public required Phase Phase { get; init; }

    /// <summary>Steps with the same card are shown together: <c>T3</c>, <c>G55</c>, <c>Machine made ready</c>.</summary>
    public required string Card { get; init; }
    public required string Title { get; init; }

    /// <summary>Where to look: the page of the control, the place on the machine.</summary>
    public required string Where { get; init; }

    /// <summary>What failure it stops, in one line.</summary>
    public required string Why { get; init; }
    public required Takes Takes { get; init; }

    /// <summary><c>in</c>, <c>mm</c>, <c>%</c> or empty.</summary>
    public string Unit { get; init; } = "";
    public int Decimals { get; init; }
    public bool Blind { get; init; }

    /// <summary>Read from a rule or a height gauge, not from the control.</summary>
    public bool IsMeasuredByHand { get; init; }

    /// <summary>What it should be: always for steps that are not blind, for blind ones only after two wrong readings.</summary>
    public string? Shows { get; init; }
    public required StepState State { get; init; }

    /// <summary>What must happen first, in words a person can act on; empty: it can be done now.</summary>
    public IReadOnlyList<string> WaitsFor { get; init; } = [];

    /// <summary>Ids of the steps that must be done first, where nothing else is in the way; else empty.</summary>
    public IReadOnlyList<string> OnlyAfter { get; init; } = [];

    /// <summary>What came of it last: "read the display again", the probable cause, why it is open again.</summary>
    public string? Says { get; init; }
    public int Attempts { get; init; }

    /// <summary>The accepted reading was typed after its value had been shown.</summary>
    public bool NotBlind { get; init; }
    public string? Typed { get; init; }
    public Doer? By { get; init; }
    public IReadOnlyList<Figure> Compare { get; init; } = [];
    public IReadOnlyList<string> Cautions { get; init; } = [];
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>The app's own title, where the shop has worded the step anew; null: <see cref="Title"/> is it.</summary>
    public string? Standard { get; init; }

    /// <summary>What the shop has added below the step; null: nothing.</summary>
    public string? ShopSays { get; init; }

    /// <summary>A supervisor may sign for it in place of doing it.</summary>
    public bool CanDeviate { get; init; }
}
