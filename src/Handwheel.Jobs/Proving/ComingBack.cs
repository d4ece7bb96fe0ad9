namespace Handwheel.Jobs.Proving;

/// <summary>
/// Somebody goes on after a gap, or where somebody else stopped: who did what last, and what may have changed since without a word to this app.
/// It is said on the screen and refuses nothing.
/// </summary>
/// <param name="Last">The newest entry.</param>
/// <param name="LookAgain">What to confirm at the machine before going on, in words; never empty.</param>
public sealed record ComingBack(Entry Last, IReadOnlyList<string> LookAgain)
{
    /// <summary>How long the same person was away before being told (common practice, no source).</summary>
    public static readonly TimeSpan Gap = TimeSpan.FromMinutes(30);

    /// <summary>Null: the same person goes on without a gap, or nothing was done yet.</summary>
    public static ComingBack? For(ProveOut proveOut, Actor by, DateTimeOffset now)
    {
        if (proveOut.Entries is not [_, .., var last] || proveOut.Standing is not Standing.UnderWay)
            return null;
        return last.By.Person == by.Person && now - last.DoneAt < Gap ? null : new(last, [.. Again(proveOut)]);
    }

    static IEnumerable<string> Again(ProveOut proveOut)
    {
        if (proveOut.Ledger.Hazards is { Count: > 0 } hazards)
            yield return Said.In(
                $"Registers: {string.Join("; ", hazards.Select(h => h.Text))}. Look at the work offset page."
            );
        if (proveOut.Phase is Phase.AirCut or Phase.FirstCut)
            yield return Said.In(
                "The spindle and the program: which tool is in, which length register is on, in which block the control stands."
            );
        var switches = proveOut
            .Steps.Where(s => s.State is StepState.Done && IsSwitch(proveOut.Phase, s.Id))
            .Select(s => s.Title)
            .ToList();
        if (switches.Count > 0)
            yield return Said.In($"What was set and ticked before: {string.Join("; ", switches)}.");
        yield return Said.In(
            "Guards, clamps and the table: nothing loose, nothing left lying, nobody else's hands in the machine."
        );
    }

    static bool IsSwitch(Phase phase, string step) =>
        step.StartsWith(
            phase is Phase.Ready or Phase.AirCut ? "ready.machine." : "restore.switch.",
            StringComparison.Ordinal
        );
}
