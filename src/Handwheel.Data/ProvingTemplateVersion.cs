namespace Handwheel.Data;

/// <summary>
/// One version of what the shop says about its prove-outs, on every machine or on one; the newest of each is in force. The database
/// refuses to change or delete a row, so a record that names a version stays explainable.
/// </summary>
public class ProvingTemplateVersion
{
    /// <summary>The order in which they were stored, over all machines.</summary>
    public long Number { get; init; }

    /// <summary>Null: for every machine.</summary>
    public Guid? MachineId { get; init; }

    /// <summary>Digest of the stored file that holds the template's canonical text.</summary>
    public required string Sha256 { get; init; }
    public DateTimeOffset At { get; init; }
    public Guid PersonId { get; init; }
    public required string PersonName { get; init; }

    /// <summary>Why it was changed, in the person's words.</summary>
    public required string Why { get; init; }
}
