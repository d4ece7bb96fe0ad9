namespace Handwheel.Jobs.Proving;

/// <summary>
/// Why somebody who comes to a half-set machine should take it over, and read the registers back, before going on. It is asked on the screen
/// and refuses nothing: only a handoff that was begun does (two people who work on one machine together need none).
/// </summary>
/// <param name="LeftBy">Who wrote here last.</param>
/// <param name="At">When that was.</param>
/// <param name="Hazards">Registers that are not as they should be; may be empty.</param>
public sealed record TakeOverLead(string LeftBy, DateTimeOffset At, IReadOnlyList<Hazard> Hazards)
{
    /// <summary>How long nobody wrote, where a register is off its baseline (common practice, no source).</summary>
    public static readonly TimeSpan GapWhileRaised = TimeSpan.FromMinutes(15);

    /// <summary>How long nobody wrote, where all is as it should be: about half a shift (common practice, no source).</summary>
    public static readonly TimeSpan Gap = TimeSpan.FromHours(4);

    /// <summary>Null: <paramref name="by"/> was here last, or a moment ago, or there is nothing to read back.</summary>
    public static TakeOverLead? For(ProveOut proveOut, Actor by, DateTimeOffset now)
    {
        if (proveOut.Entries is not [.., var last] || last.By.Person == by.Person)
            return null;
        var read = proveOut.Ledger.Readings.Any(r => r.ProveOut == proveOut.Plan.Subject.ProveOut);
        var asked = proveOut.Steps.Any(s => s.Phase == Phase.ReadBack);
        if (!read || asked || proveOut.WhyNot(new TakingOverAlone("gone"), by).Count > 0)
            return null;
        var hazards = proveOut.Ledger.Hazards;
        return now - last.At >= (hazards.Count > 0 ? GapWhileRaised : Gap) ? new(last.By.Name, last.At, hazards) : null;
    }
}
