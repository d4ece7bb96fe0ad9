using System.Text.Json.Serialization;

namespace Handwheel.Jobs.Proving;

/// <summary>What the next person must know, worst first. Every heading may say "none" and is never blank.</summary>
public sealed record HandoffHeading(string Key, string Title);

/// <summary>A handoff that is open: until both have signed.</summary>
/// <param name="Outgoing">Null: gone, the incoming person takes over alone.</param>
/// <param name="Incoming">Who reads the registers back; null: nobody yet.</param>
public sealed record Handoff(
    Actor? Outgoing,
    DateTimeOffset At,
    IReadOnlyDictionary<string, string> Words,
    Actor? Incoming
)
{
    public static IReadOnlyList<HandoffHeading> Headings =>
        [
            new("locked-out", Said.In("Locked out or bypassed")),
            new("raised", Said.In("Offsets still raised: which, by how much, who read them last")),
            new("half-cut", Said.In("A part half cut")),
            new("tools", Said.In("In the spindle and in the pockets, measured or not")),
            new("steps", Said.In("Steps done and half done")),
            new("findings", Said.In("Findings open")),
            new("switches", Said.In("Switches: single block, optional stop, block delete, dry run, overrides")),
            new("edits", Said.In("What was edited")),
            new("restart", Said.In("The restart line")),
            new("odd", Said.In("Heard or seen that was odd")),
            new("next", Said.In("What to do next")),
        ];

    /// <summary>The answer to a heading under which there is nothing.</summary>
    public static bool SaysNone(string words) =>
        words.Trim().TrimEnd('.').ToUpperInvariant()
            is "NONE"
                or "NO"
                or "NOTHING"
                or "NIL"
                or "N/A"
                or "-"
                or "NINGUNO"
                or "NINGUNA"
                or "NADA";
}

/// <summary>
/// What a handoff said is locked out or bypassed. It ends neither when somebody takes over nor with the prove-out: the next one on
/// the machine begins with it.
/// </summary>
public sealed record LockedOut(string Words, Actor By, DateTimeOffset At)
{
    const int ShortMost = 70;

    /// <summary>In one line of at most 70 characters, without a full stop.</summary>
    [JsonIgnore]
    public string InShort
    {
        get
        {
            var lines = Words.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
            var line = string.Join("; ", lines).TrimEnd('.');
            return line.Length <= ShortMost ? line : line[..(ShortMost - 1)].TrimEnd() + "…";
        }
    }

    /// <summary>
    /// What is after an entry, where <paramref name="before"/> was before it; null: nothing. A handoff that says "none" is no signature
    /// that what stood is so no longer.
    /// </summary>
    public static LockedOut? After(LockedOut? before, Entry entry) =>
        entry.Act switch
        {
            Begun begun => begun.LockedOut,
            HandedOver { SaysLockedOut: { } words } => new(words, entry.By, entry.At),
            LockoutLifted => null,
            _ => before,
        };
}
