namespace Handwheel.Data;

/// <summary>One wrong PIN or password, kept for two days to count by tablet and over the shop.</summary>
public class FailedSignIn
{
    public long Number { get; set; }
    public DateTimeOffset At { get; set; }

    /// <summary>The tablet's id, or the network address of a browser without a name.</summary>
    public required string Where { get; set; }

    /// <summary>Null: a name that nobody has.</summary>
    public Guid? PersonId { get; set; }
}
