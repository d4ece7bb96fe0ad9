namespace Handwheel.Data;

/// <summary>
/// One version of the shop's cutting table; the newest is in force. The database refuses to change or delete a row, so a check
/// that names a version by its digest stays explainable.
/// </summary>
public class CuttingTableVersion
{
    /// <summary>The order in which they were stored.</summary>
    public long Number { get; init; }

    /// <summary>Digest of the stored file that holds the table's canonical text.</summary>
    public required string Sha256 { get; init; }
    public DateTimeOffset At { get; init; }
    public Guid PersonId { get; init; }
    public required string PersonName { get; init; }

    /// <summary>Why it was changed, in the person's words; may be empty.</summary>
    public string Why { get; init; } = "";
}
