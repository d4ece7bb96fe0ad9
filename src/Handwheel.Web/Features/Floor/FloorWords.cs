using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;

namespace Handwheel.Web.Features.Floor;

/// <summary>What the pages at the machine say about a prove-out beside its steps.</summary>
static class FloorWords
{
    public static Banner BannerOf(OpenedProveOut open, ShopClock clock) =>
        new()
        {
            MachineId = open.Machine.Id,
            Machine = open.Machine.Name,
            Job = TitleOf(open.Job),
            Hazards = Hazards(open.ProveOut.Ledger, open.LockedOut, clock, open.ProveOut),
            ProveOut = open.Log.Id,
            Number = open.ProveOut.Last,
        };

    public static string TitleOf(Job job)
    {
        var parts = new List<string> { job.Part.Length > 0 ? job.Part : Said.In($"Job {job.Number}") };
        if (job.Operation.Length > 0)
            parts.Add(Said.In("op ") + job.Operation);
        if (job.Revision.Length > 0)
            parts.Add(Said.In("rev ") + job.Revision);
        return string.Join(", ", parts);
    }

    /// <summary>
    /// Registers that are not as they should be, raised ones first; then those that lost the raise in the middle of the air cut, what is
    /// locked out, and a handoff that nobody has taken.
    /// </summary>
    public static IReadOnlyList<FloorHazard> Hazards(MachineState state, ShopClock clock) =>
        Hazards(state.Ledger, state.LockedOut, clock, state.UnderWay?.ProveOut);

    static List<FloorHazard> Hazards(Ledger ledger, LockedOut? lockedOut, ShopClock clock, ProveOut? proveOut)
    {
        var said = ledger.Hazards.Select(h => new FloorHazard(h.Text, Read(h.LastRead), h.Raised)).ToList();
        said.AddRange(
            (proveOut?.RaisesLost ?? []).Select(l => new FloorHazard(l.Why, Read(l.LastRead), Raised: false))
        );
        if (lockedOut is { } locked)
            said.Add(
                new(
                    Said.In($"Locked out or bypassed: {locked.InShort}"),
                    Said.In($"written {clock.When(locked.At)}, by {locked.By.Name}"),
                    Raised: false,
                    Stays: true
                )
            );
        if (proveOut?.Standing is Standing.HandoffOpen)
            said.Add(new(Said.In("Handoff open"), Said.In("nobody has taken this machine over yet"), Raised: false));
        return said;

        string Read(LedgerReading last) => Said.In($"read {clock.When(last.At)}, by {last.By.Name}");
    }

    public static string StandsAt(OpenedProveOut open)
    {
        if (open.ProveOut.Standing is Standing.Released)
            return Said.In("Released");
        if (open.ProveOut.Standing is Standing.Abandoned)
            return Said.In("Abandoned");
        var next = StepWords.NextOf(open.ProveOut);
        return StepWords.Of(open.ProveOut.Phase) + (next is null ? "" : Said.In($", next: {next.Title}"));
    }

    /// <summary>The newest entry in a few words.</summary>
    public static string LastDone(OpenedProveOut open, ShopClock clock)
    {
        if (open.LastEntry is not { } last)
            return Said.In("Nothing was recorded yet.");
        var step = open.ProveOut.Steps.FirstOrDefault(s => s.Id == last.Act.About);
        var about =
            step is null ? null
            : last.Act is PhotoAdded ? Said.In($"photo of {step.Title}")
            : step.Settled() ? step.Title
            : $"{step.Title} ({StepWords.Of(step.State)})";
        return Said.In(
            $"Last recorded: {about ?? Kind(last.Act)}, by {last.By.Name} on {last.Tablet}, {clock.When(last.At)} (entry {last.Number}{(last.Kept is { } kept ? ", " + kept.Words(last.At) : "")})."
        );
    }

    static string Kind(Act act) =>
        act switch
        {
            Begun => Said.In("the prove-out was begun"),
            HandedOver => Said.In("handed over"),
            TookOver => Said.In("taken over"),
            TakingOverAlone => Said.In("taking over alone"),
            HandoffWithdrawn => Said.In("the handoff was withdrawn"),
            LockoutLifted => Said.In("what was locked out or bypassed is so no longer"),
            Interrupted interrupted => Said.In("interrupted: ") + interrupted.What,
            EditNoted => Said.In("an edit at the machine"),
            RaiseChosen => Said.In("another raise was chosen"),
            TakenBack back => Said.In($"entry {back.Entry} was taken back"),
            ProgramChanged => Said.In("the program was changed"),
            SetupChanged => Said.In("the setup was changed"),
            LengthChanged or ToolReplaced => Said.In("a tool was measured anew or replaced"),
            BaselineChanged => Said.In("a work offset was set anew"),
            HoldingChanged => Said.In("holding or stock was changed"),
            ParkingBegun => Said.In("parking was begun"),
            Abandoned => Said.In("the prove-out was abandoned"),
            PhotoAdded => Said.In("a photo"),
            Note note => Said.In($"a note: {note.Text}"),
            _ => act.Meaning ?? Said.In("a change at the machine"),
        };
}
