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

    const int ShortMost = 120;

    /// <summary>What was written as locked out or bypassed, in one line of at most 120 characters; null: nothing is.</summary>
    public string? LockedOut
    {
        get
        {
            if (Words.GetValueOrDefault("locked-out") is not { Length: > 0 } words || SaysNone(words))
                return null;
            var line = string.Join(
                "; ",
                words.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
            );
            return line.Length <= ShortMost ? line : line[..(ShortMost - 1)].TrimEnd() + "…";
        }
    }

    internal static bool SaysNone(string words) =>
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
