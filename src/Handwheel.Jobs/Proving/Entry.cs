using System.Text.Json.Serialization;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// One line of a prove-out's append-only list.
/// </summary>
/// <param name="Number">1 and up, without gaps.</param>
/// <param name="At">UTC, the server's clock.</param>
/// <param name="Zone">The shop's time zone, IANA name.</param>
/// <param name="Tablet">Where it was done.</param>
/// <param name="BasedOn">Number of the last entry that the person's page had shown; 0: none.</param>
/// <param name="Kept">Null: it came as it was made, or nobody knew that it did not.</param>
public sealed record Entry(
    long Number,
    DateTimeOffset At,
    string Zone,
    Actor By,
    string Tablet,
    long BasedOn,
    Act Act,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] KeptOnTablet? Kept = null
)
{
    /// <summary>When the person did it, as far as is known: before <see cref="At"/> where the entry waited on its tablet.</summary>
    public DateTimeOffset DoneAt => Kept is { } kept ? At - TimeSpan.FromSeconds(kept.Waited) : At;
}
