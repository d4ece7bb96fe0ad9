using System.Globalization;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Floor;

namespace Handwheel.Web.Features.Board;

/// <summary>One machine on the board, in whole sentences for people.</summary>
/// <param name="Grave">A register is not as it should be, or something is locked out: what could hurt is a warning, else a caution.</param>
/// <param name="Hurts">What could hurt, worst first; empty: nothing that a person has recorded.</param>
/// <param name="Stands">Where the job stands.</param>
/// <param name="Next">What is next.</param>
/// <param name="Job">Number of the job meant; null: none.</param>
/// <param name="ProveOut">The prove-out under way; null: none.</param>
public sealed record MachineCard(
    Guid Machine,
    string Name,
    bool Grave,
    IReadOnlyList<string> Hurts,
    string Stands,
    string Next,
    int? Job,
    Guid? ProveOut
)
{
    public static MachineCard Of(MachineOnBoard on, ShopClock clock)
    {
        var hurts = on
            .Hazards.Select(h => $"{h.Text}, read {clock.When(h.LastRead.At)} by {h.LastRead.By.Name}")
            .ToList();
        if (on.LockedOut is { } locked)
            hurts.Add($"Locked out or bypassed: {locked.InShort}, written {clock.When(locked.At)} by {locked.By.Name}");
        if (on.HandoffOpen)
            hurts.Add("Handoff open: nobody has taken this machine over yet");
        hurts.AddRange(
            (on.UnderWay?.ProveOut.RaisesLost ?? []).Select(l =>
                $"{l.Why}, read {clock.When(l.LastRead.At)} by {l.LastRead.By.Name}"
            )
        );
        hurts.AddRange(HeldSteps(on));
        return new(
            on.Machine.Id,
            on.Machine.Name,
            on.Hazards.Count > 0 || on.LockedOut is not null,
            hurts,
            StandsAt(on),
            NextAt(on),
            on.UnderWay?.Job.Number ?? (on.Waiting.Count > 0 ? on.Waiting[0].Number : null),
            on.UnderWay?.Log.Id
        );
    }

    static IEnumerable<string> HeldSteps(MachineOnBoard on) =>
        (on.UnderWay?.ProveOut.Steps ?? [])
            .Where(s => s.State is StepState.Held or StepState.Refused)
            .Select(s => $"{s.Card}, {s.Title}: {StepWords.Of(s.State)}");

    static string StandsAt(MachineOnBoard on)
    {
        if (on.UnderWay is not { } open)
            return on.Hazards.Count > 0 ? "No prove-out under way; nothing else begins here" : "No prove-out under way";
        var phase = open.ProveOut.Phase;
        var steps = open.ProveOut.Steps.Where(s => s.Phase == phase).ToList();
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{FloorWords.TitleOf(open.Job)}: {StepWords.Of(phase).ToLowerInvariant()}, {steps.Count(s => s.Settled())} of {steps.Count} steps done"
        );
    }

    static string NextAt(MachineOnBoard on)
    {
        if (on.HandoffOpen)
            return "somebody takes it over at the machine";
        if (on.Next is { } step)
            return $"{step.Card}, {step.Title}";
        if (on.UnderWay is not null)
            return "something else has to be put right first";
        if (on.Hazards.Count > 0)
            return "read the register at the machine";
        return on.Waiting switch
        {
            [] => "nothing is waiting",
            [var first, ..] => string.Create(
                CultureInfo.InvariantCulture,
                $"job {first.Number}, {FloorWords.TitleOf(first)}{Stops(on.WaitingStops)}{More(on.Waiting.Count - 1)}"
            ),
        };
    }

    static string Stops(int count) =>
        count switch
        {
            0 => "",
            1 => ": 1 finding at level stop",
            _ => string.Create(CultureInfo.InvariantCulture, $": {count} findings at level stop"),
        };

    static string More(int count) =>
        count == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"; {count} more waiting");
}
