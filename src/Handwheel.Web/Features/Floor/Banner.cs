namespace Handwheel.Web.Features.Floor;

/// <summary>What the banner of a page at the machine always says: which machine, which job, what could hurt.</summary>
public sealed record Banner
{
    /// <summary>A page that belongs to no machine.</summary>
    public static readonly Banner Shop = new();

    public Guid? MachineId { get; init; }
    public string Machine { get; init; } = "";

    /// <summary>Part, operation, revision; empty when no job is meant.</summary>
    public string Job { get; init; } = "";

    /// <summary>One sentence per register that is not as it should be, and an open handoff.</summary>
    public IReadOnlyList<string> Hazards { get; init; } = [];

    public Guid? ProveOut { get; init; }

    /// <summary>The number of the newest entry that this page shows.</summary>
    public long Number { get; init; }
}
