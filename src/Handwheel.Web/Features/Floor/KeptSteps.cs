using Handwheel.Jobs.Proving;

namespace Handwheel.Web.Features.Floor;

/// <summary>
/// Which steps a tablet may record without the server: what is open now, and what waits for nothing but ticks among those. A reading is judged,
/// a signature taken and an interlock opened on the server alone, so nothing that waits for one of them is offered. Where steps may be
/// done in any order, a page without the server still keeps to the order in which a wrong reading would stop the person.
/// </summary>
static class KeptSteps
{
    public static IReadOnlyList<StepView> Of(IReadOnlyList<StepView> steps)
    {
        var recordable = new Dictionary<string, StepView>(StringComparer.Ordinal);
        bool grew;
        do
        {
            grew = false;
            foreach (var step in steps.Where(s => !recordable.ContainsKey(s.Id) && CanWait(s) && IsOpen(s)))
                grew |= recordable.TryAdd(step.Id, step);
        } while (grew);
        return
        [
            .. steps
                .Where(s => recordable.ContainsKey(s.Id) && !FollowsUnjudged(steps, s))
                .OrderBy(s => s.Phase is Phase.Parking), // it comes when it is asked for
        ];

        bool IsOpen(StepView step) =>
            step.WaitsFor.Count == 0
            || (
                step.OnlyAfter.Count > 0
                && step.OnlyAfter.All(a => recordable.TryGetValue(a, out var before) && IsTick(before))
            );
    }

    /// <summary>
    /// While a tool moves, a reading is there to stop it: nothing of the same card goes on before it was judged, and in the first cut nothing at all.
    /// </summary>
    static bool FollowsUnjudged(IReadOnlyList<StepView> steps, StepView step) =>
        step.Phase is Phase.AirCut or Phase.FirstCut
        && steps
            .TakeWhile(s => s.Id != step.Id)
            .Any(s =>
                s.Phase == step.Phase
                && (s.Card == step.Card || step.Phase is Phase.FirstCut)
                && s.Takes is Takes.Reading
                && !s.Settled()
            );

    static bool IsTick(StepView step) =>
        step.Takes is Takes.Seen or Takes.Tick or Takes.TickWithWords or Takes.AgreesOrDiffers
        && step.State is not StepState.Held;

    /// <summary>Not settled, not signed for.</summary>
    static bool CanWait(StepView step) =>
        !step.Settled()
        && step.Takes is not (Takes.Nothing or Takes.Signature or Takes.SupervisorsReason or Takes.OtherWay);
}
