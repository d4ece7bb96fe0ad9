namespace Handwheel.Data;

public enum ProveOutEnd
{
    Open,
    Released,
    Abandoned,
}

/// <summary>The head of one prove-out's append-only list of entries.</summary>
public class ProveOutLog : Kept
{
    public Guid JobId { get; set; }
    public Guid MachineId { get; set; }

    /// <summary>Digest of the stored file that holds the plan now in force, as JSON.</summary>
    public required string PlanSha256 { get; set; }
    public DateTimeOffset StartedAt { get; set; }
    public Guid StartedBy { get; set; }

    /// <summary>The shop's time zone when it was started, IANA name.</summary>
    public required string Zone { get; set; }

    /// <summary>Number of the newest entry; 0 when there is none.</summary>
    public long LastNumber { get; set; }

    /// <summary>Hash of the newest entry, lower-case hex; what a signed head covers.</summary>
    public required string LastHash { get; set; }

    public ProveOutEnd End { get; set; }
    public DateTimeOffset? EndedAt { get; set; }
}

/// <summary>One entry as it was hashed. The database refuses to change or delete it.</summary>
public class ProveOutEntry
{
    public Guid ProveOutId { get; init; }

    /// <summary>From 1, without gaps.</summary>
    public long Number { get; init; }
    public DateTimeOffset At { get; init; }
    public Guid PersonId { get; init; }

    /// <summary>The entry as canonical JSON (RFC 8785), the very text that the hash covers.</summary>
    public required string Body { get; init; }
    public required string PreviousHash { get; init; }
    public required string Hash { get; init; }
}
