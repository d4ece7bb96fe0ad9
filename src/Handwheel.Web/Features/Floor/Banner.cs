namespace Handwheel.Web.Features.Floor;

/// <summary>Something that could hurt.</summary>
/// <param name="What">A register that is not as it should be, and by how much; or an open handoff.</param>
/// <param name="How">How it is known: read when, by whom.</param>
/// <param name="Stays">Never folded away behind others.</param>
public sealed record FloorHazard(string What, string How, bool Raised, bool Stays = false)
{
    public override string ToString() => $"{What}, {How}";
}

/// <summary>What the banner of a page at the machine always says: which machine, which job, what could hurt.</summary>
public sealed record Banner
{
    /// <summary>A page that belongs to no machine.</summary>
    public static readonly Banner Shop = new();

    public Guid? MachineId { get; init; }
    public string Machine { get; init; } = "";

    /// <summary>Part, operation, revision; empty when no job is meant.</summary>
    public string Job { get; init; } = "";

    public IReadOnlyList<FloorHazard> Hazards { get; init; } = [];

    public Guid? ProveOut { get; init; }

    /// <summary>The number of the newest entry that this page shows.</summary>
    public long Number { get; init; }
}
