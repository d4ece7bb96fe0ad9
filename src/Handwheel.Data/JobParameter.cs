namespace Handwheel.Data;

/// <summary>What somebody said a parameter of the control holds, for a program that reads it. A newer value replaces an older one; the older row stays.</summary>
public class JobParameter
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid JobId { get; set; }

    /// <summary>501 for <c>#501</c>.</summary>
    public int Number { get; set; }

    /// <summary>Exactly as it was typed.</summary>
    public required string Typed { get; set; }

    /// <summary>Where the value comes from, in words; may be empty.</summary>
    public string From { get; set; } = "";
    public DateTimeOffset SaidAt { get; set; }
    public Guid SaidBy { get; set; }

    /// <summary>Null: this is the value in use.</summary>
    public DateTimeOffset? ReplacedAt { get; set; }
}
