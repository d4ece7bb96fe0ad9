using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>What a step's reading is compared with.</summary>
enum Expects
{
    Nothing,

    /// <summary>What the setup says the register holds.</summary>
    Setup,

    /// <summary>What was read and accepted as the register's baseline.</summary>
    Baseline,

    /// <summary>The baseline with the raise.</summary>
    Raised,

    /// <summary>What the register should hold now, raised or not.</summary>
    AsItStands,

    /// <summary>What the ledger says the register holds when nothing is raised.</summary>
    LedgerBaseline,

    /// <summary>The machine Z at the end of a tool's approach.</summary>
    MachineZ,
    MachineZRaised,
    TallestThing,
    AtMost,
}

/// <summary>What a step rests on: when it changes, the step is open again.</summary>
static class Ground
{
    public const string Program = "program";
    public const string Holding = "holding";
    public const string Raise = "raise";

    public static string ToolMotion(string key) => "program of tool " + key;

    /// <summary>Feed, speed, coolant: how it cuts, not where it goes.</summary>
    public static string ToolCutting(string key) => "cutting of tool " + key;

    public static string Tool(string key) => "tool " + key;

    public static string Baseline(Register register) => "baseline of " + register;

    /// <summary>What a parameter of the control is taken to hold.</summary>
    public static string Parameter(int number) =>
        "parameter " + number.ToString(System.Globalization.CultureInfo.InvariantCulture);

    public static string Finding(string id) => "finding " + id;
}

/// <summary>One line of the step table: everything that is the same however far the prove-out is.</summary>
sealed record StepRule
{
    public required string Id { get; init; }
    public required Phase Phase { get; init; }
    public required string Card { get; init; }
    public required string Title { get; init; }
    public required string Where { get; init; }
    public required string Why { get; init; }
    public required Takes Takes { get; init; }
    public bool Blind { get; init; }
    public Expects Expects { get; init; }
    public Register? Register { get; init; }

    /// <summary>Where <see cref="Expects"/> is at most.</summary>
    public decimal AtMost { get; init; }
    public PlannedTool? Tool { get; init; }
    public int? Characteristic { get; init; }
    public ProgramInControl? Program { get; init; }

    /// <summary>Steps that must be done before this one.</summary>
    public IReadOnlyList<string> After { get; init; } = [];

    /// <summary>See <see cref="Ground"/>.</summary>
    public IReadOnlyList<string> RestsOn { get; init; } = [];

    /// <summary>Steps that open this one again when they are opened again.</summary>
    public IReadOnlyList<string> Follows { get; init; } = [];
    public IReadOnlyList<string> Cautions { get; init; } = [];
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>The app's own title, where the shop has worded the step anew.</summary>
    public string? Standard { get; init; }

    /// <summary>What the shop has added below the step; null: nothing.</summary>
    public string? ShopSays { get; init; }
    public bool CanDeviate { get; init; } = true;
    public SignedAs? Signature { get; init; }

    /// <summary><c>T3, over the right place</c>.</summary>
    public string Name => $"{Card}, {Title}";

    public bool IsReading => Takes is Takes.Reading or Takes.Percent;
}
