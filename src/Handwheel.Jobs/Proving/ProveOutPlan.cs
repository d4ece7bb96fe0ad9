using System.Text.Json.Serialization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>Why the program is run.</summary>
public enum Purpose
{
    /// <summary>A program nobody has run, or a revised one.</summary>
    Prove,

    /// <summary>A proven program on another day or fixture: the short list.</summary>
    SetUpAgain,
}

/// <summary>What is proved where: the parts of a plan that neither setup nor check say.</summary>
/// <param name="Programs">The main program first, then its subprograms.</param>
/// <param name="Motions">Digest of where the machine goes with each tool, by tool number; null: not known.</param>
/// <param name="Cutting">Digest of how it cuts on the way: feed, speed, coolant, dwell; null: not known.</param>
/// <param name="MotionsUnknown">Why what the machine does cannot be told, in words; null: it can, or nobody asked.</param>
/// <param name="MachineSha256">Digest of the machine's facts, which decide how a program is read; null: not told.</param>
public sealed record ProveOutSubject(
    Guid ProveOut,
    Guid Machine,
    string SetupSha256,
    string CheckSha256,
    IReadOnlyList<ProgramInControl> Programs,
    Purpose Purpose = Purpose.Prove,
    IReadOnlyDictionary<int, string>? Motions = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        IReadOnlyDictionary<int, string>? Cutting = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? MotionsUnknown = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? MachineSha256 = null
)
{
    /// <summary>Values of the control's parameters that the check rests on; null: it rests on none.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<PlannedParameter>? Assumed { get; init; }

    /// <summary>Where the program was proved before; null: it is proved here.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public ProvedBefore? ProvedBefore { get; init; }
}

/// <summary>The prove-out that a setting up again rests on.</summary>
/// <param name="Machine">Its name when the program was proved there.</param>
/// <param name="Job">The shop's number of the job that was released: <c>job 12</c>.</param>
/// <param name="Differences">What the machine of this prove-out has otherwise, as both are described; empty: nothing.</param>
public sealed record ProvedBefore(
    Guid ProveOut,
    string Machine,
    string Job,
    DateTimeOffset Released,
    IReadOnlyList<MachineDifference> Differences
);

/// <param name="Number">501 for <c>#501</c>.</param>
/// <param name="Typed">As somebody said it.</param>
public sealed record PlannedParameter(int Number, string Typed);

/// <summary>
/// Everything that the steps of a prove-out rest on, worked out once from setup and check. Plain data; kept as JSON by
/// <see cref="PlanJson"/>, so that a later version of the checks does not move a prove-out that is under way.
/// </summary>
public sealed record ProveOutPlan
{
    public required ProveOutSubject Subject { get; init; }
    public required string MachineName { get; init; }
    public required Units Units { get; init; }
    public required Length LeastIncrement { get; init; }
    public required IReadOnlyList<PlannedTool> Tools { get; init; }
    public required IReadOnlyList<PlannedRegister> Registers { get; init; }
    public required PlannedAirCut AirCut { get; init; }
    public required IReadOnlyList<PlannedFinding> Findings { get; init; }

    /// <summary>Height of the tallest thing described, above the zero of <see cref="HeightAbove"/>; null: nothing is described.</summary>
    public Length? TallestThing { get; init; }
    public string HeightAbove { get; init; } = "";
    public required decimal RapidOverride { get; init; }
    public required IReadOnlyList<Characteristic> Characteristics { get; init; }
    public required bool DiameterRegisterIsRadius { get; init; }
    public required IReadOnlyList<string> Parking { get; init; }
    public required string Holding { get; init; }

    /// <summary>Digest of where stock and holding stand and how large they are.</summary>
    public required string HoldingDigest { get; init; }
    public required ShopRulesForProving Rules { get; init; }

    /// <summary>The plan before the last change of program or setup; null: this is the first.</summary>
    public ProveOutPlan? Previous { get; init; }

    /// <summary>SHA-256 (lower-case hex) of the plan's canonical JSON without <see cref="Previous"/>.</summary>
    public string Digest => PlanJson.DigestOf(this);

    public static ProveOutPlan From(
        ProveOutSubject subject,
        Setup setup,
        CheckResult check,
        ShopRulesForProving rules
    ) => PlanMaker.Make(subject, setup, check, rules);

    /// <summary>The plan after a change of program or setup; <see cref="ProgramChanged"/> or <see cref="SetupChanged"/> moves the prove-out to it.</summary>
    public ProveOutPlan Revised(ProveOutSubject subject, Setup setup, CheckResult check) =>
        From(subject, setup, check, Rules) with
        {
            Previous = this,
        };
}

/// <summary>A tool with one H register, in order of first use. Machine values are without the raise.</summary>
public sealed record PlannedTool
{
    /// <summary>Part of the step ids: the tool's number, or <c>3-h23</c> for a further H of tool 3.</summary>
    public required string Key { get; init; }
    public required int Tool { get; init; }
    public int? LengthOffset { get; init; }
    public int? Pocket { get; init; }
    public string Kind { get; init; } = "";
    public string Description { get; init; } = "";
    public Length? Stickout { get; init; }
    public Length? Length { get; init; }
    public Length Wear { get; init; }
    public int? DiameterOffset { get; init; }
    public Length? DiameterValue { get; init; }

    /// <summary>The program uses cutter compensation with this tool and its D; null: not known.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public bool? Compensated { get; init; }
    public PlannedStop? Position { get; init; }
    public PlannedStop? Approach { get; init; }
    public PlannedStop? Entry { get; init; }

    /// <summary>Later stops of the same tool and H: "again at line 240, G56".</summary>
    public IReadOnlyList<string> Again { get; init; } = [];

    /// <summary>Where this tool comes nearest to something that holds the part, in words; null: not known, or nowhere near.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? Watch { get; init; }

    /// <summary>Work offsets the tool moves in.</summary>
    public IReadOnlyList<string> WorkOffsets { get; init; } = [];

    /// <summary>Digest of where the machine goes with this tool; null: not known, every change of program counts as its change.</summary>
    public string? Motion { get; init; }

    /// <summary>Digest of how it cuts on the way; null: not known.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Cutting { get; init; }
}

public sealed record PlannedStop(
    int Line,
    string Block,
    string WorkOffset,
    Length? MachineX,
    Length? MachineY,
    Length? MachineZ,
    Length? DistanceToGoX,
    Length? DistanceToGoY,
    Length? DistanceToGoZ,
    Length? DistanceToGoRaisedZ,
    Length? TipAbovePartZero,
    Length? AirBelowRaised,
    string? Below
);

/// <summary>A register the program uses, with what the setup says it holds.</summary>
public sealed record PlannedRegister(Register Register, Length? Setup);

public sealed record PlannedAirCut(
    bool Possible,
    Length? Minimum,
    Length? Maximum,
    Length? Suggested,
    string? Why,
    IReadOnlyList<AirCutRate> Rates
);

/// <summary>Findings with the same id.</summary>
public sealed record PlannedFinding(string Id, Level Level, IReadOnlyList<string> Messages);
