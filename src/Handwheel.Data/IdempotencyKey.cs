namespace Handwheel.Data;

/// <summary>
/// The first answer to a request, kept with its effect in one transaction, so that a tablet that asks again gets the
/// same answer. Kept 30 days.
/// </summary>
public class IdempotencyKey
{
    public required string Key { get; init; }

    /// <summary>Who asked first: a key is worth nothing to anybody else.</summary>
    public Guid PersonId { get; init; }

    /// <summary>SHA-256, lower-case hex, of what was asked for.</summary>
    public required string RequestDigest { get; init; }

    /// <summary>The body of the first answer, byte for byte.</summary>
    public required string Answer { get; init; }
    public DateTimeOffset At { get; init; }
}
