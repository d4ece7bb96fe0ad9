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
    public static IReadOnlyList<HandoffHeading> Headings { get; } =
    [
        new("locked-out", "Locked out or bypassed"),
        new("raised", "Offsets still raised: which, by how much, who read them last"),
        new("half-cut", "A part half cut"),
        new("tools", "In the spindle and in the pockets, measured or not"),
        new("steps", "Steps done and half done"),
        new("findings", "Findings open"),
        new("switches", "Switches: single block, optional stop, block delete, dry run, overrides"),
        new("edits", "What was edited"),
        new("restart", "The restart line"),
        new("odd", "Heard or seen that was odd"),
        new("next", "What to do next"),
    ];
}
