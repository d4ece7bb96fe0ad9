using Handwheel.Jobs.Proving;

namespace Handwheel.Web.Features.Floor;

/// <summary>States and phases in the trade's words, for the eye across the machine and for a screen reader.</summary>
public static class StepWords
{
    public static string Of(StepState state) =>
        state switch
        {
            StepState.Waiting => Said.In("waits"),
            StepState.Open => Said.In("to do"),
            StepState.ReadAgain => Said.In("read again"),
            StepState.Refused => Said.In("not right"),
            StepState.Held => Said.In("differs"),
            StepState.Done => Said.In("done"),
            StepState.Deviation => Said.In("deviation signed"),
            StepState.Hazard => Said.In("hazard taken over"),
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, null),
        };

    public static string Of(Phase phase) =>
        phase switch
        {
            Phase.Ready => Said.In("Ready"),
            Phase.AirCut => Said.In("Air cut"),
            Phase.Restore => Said.In("Restore"),
            Phase.FirstCut => Said.In("First cut"),
            Phase.FirstPiece => Said.In("First piece"),
            Phase.Release => Said.In("Release"),
            Phase.ReadBack => Said.In("Read back"),
            Phase.Parking => Said.In("Parking"),
            _ => throw new ArgumentOutOfRangeException(nameof(phase), phase, null),
        };

    public static bool Settled(this StepView step) =>
        step.State is StepState.Done or StepState.Deviation or StepState.Hazard;

    /// <summary>A card says the worst of its steps.</summary>
    public static string OfCard(IEnumerable<StepView> steps)
    {
        var states = steps.Select(s => s.State).ToList();
        StepState[] worst = [StepState.Held, StepState.Refused, StepState.ReadAgain, StepState.Open, StepState.Waiting];
        foreach (var state in worst)
            if (states.Contains(state))
                return Of(state);
        return states.Contains(StepState.Hazard) ? Of(StepState.Hazard)
            : states.Contains(StepState.Deviation) ? Of(StepState.Deviation)
            : Of(StepState.Done);
    }

    /// <summary>
    /// The step to show when none was asked for: read-backs first, then the first that can be done, then a register to be
    /// put back where all else waits for it, then the first that waits. Parking is shown when it is asked for.
    /// </summary>
    public static StepView? NextOf(ProveOut proveOut)
    {
        var next = Next([.. proveOut.Steps.Where(s => s.Phase is not Phase.Parking)]);
        return next is { WaitsFor.Count: > 0 }
            ? proveOut.Steps.FirstOrDefault(s =>
                s.Id.StartsWith("put-back.", StringComparison.Ordinal) && !s.Settled() && s.WaitsFor.Count == 0
            ) ?? next
            : next;
    }

    /// <summary>
    /// The step to show after an act on step <paramref name="after"/>: the same until it is settled, unless a register is to
    /// be read back before anything else. Down the parking list it is the next one there.
    /// </summary>
    public static StepView? After(ProveOut proveOut, string? after)
    {
        var next = NextOf(proveOut);
        if (proveOut.Steps.FirstOrDefault(s => s.Id == after) is not { } worked)
            return next;
        if (worked.Phase is not Phase.ReadBack && next?.Phase is Phase.ReadBack)
            return next;
        if (!worked.Settled())
            return worked;
        return worked.Phase is Phase.Parking
            ? Next([.. proveOut.Steps.Where(s => s.Phase is Phase.Parking)]) ?? next
            : next;
    }

    public static StepView? Next(IReadOnlyList<StepView> steps)
    {
        var left = steps.Where(s => !s.Settled() && s.Takes is not Takes.Nothing).ToList();
        return left.Find(s => s.Phase is Phase.ReadBack && s.WaitsFor.Count == 0)
            ?? left.Find(s => s.WaitsFor.Count == 0)
            ?? left.FirstOrDefault();
    }
}
