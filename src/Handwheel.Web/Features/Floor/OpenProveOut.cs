using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Shell;

namespace Handwheel.Web.Features.Floor;

/// <summary>A prove-out with what a page at the machine says around it.</summary>
public sealed record OpenProveOut(
    ProveOut ProveOut,
    IReadOnlyList<Entry> Entries,
    ProveOutLog Log,
    Job Job,
    Machine Machine,
    ShopClock Time
)
{
    public Banner Banner =>
        new()
        {
            MachineId = Machine.Id,
            Machine = Machine.Name,
            Job = TitleOf(Job),
            Hazards = Hazards(ProveOut.Ledger, Time, ProveOut.Standing is Standing.HandoffOpen),
            ProveOut = Log.Id,
            Number = ProveOut.Last,
        };

    /// <summary>The newest entry in a few words.</summary>
    public string LastDone
    {
        get
        {
            if (Entries.Count == 0)
                return "Nothing was recorded yet.";
            var last = Entries[^1];
            var about = ProveOut.Steps.FirstOrDefault(s => s.Id == last.Act.About)?.Title;
            return string.Create(
                CultureInfo.InvariantCulture,
                $"Last recorded: {about ?? Kind(last.Act)}, by {last.By.Name} on {last.Tablet}, {Time.When(last.At)} (entry {last.Number})."
            );
        }
    }

    public static string TitleOf(Job job)
    {
        var parts = new List<string>
        {
            job.Part.Length > 0 ? job.Part : string.Create(CultureInfo.InvariantCulture, $"Job {job.Number}"),
        };
        if (job.Operation.Length > 0)
            parts.Add("op " + job.Operation);
        if (job.Revision.Length > 0)
            parts.Add("rev " + job.Revision);
        return string.Join(", ", parts);
    }

    public static IReadOnlyList<string> Hazards(Ledger ledger, ShopClock time, bool handoffOpen)
    {
        var said = ledger
            .Hazards.Select(h =>
                $"{h.Text}, read {time.When(h.LastRead.At)} by {h.LastRead.By.Name}, since {time.When(h.Since)}"
            )
            .ToList();
        if (handoffOpen)
            said.Add("Handoff open: nobody has taken this machine over yet");
        return said;
    }

    static string Kind(Act act) =>
        act switch
        {
            Begun => "the prove-out was begun",
            HandedOver => "handed over",
            TookOver => "taken over",
            TakingOverAlone => "taking over alone",
            HandoffWithdrawn => "the handoff was withdrawn",
            Interrupted interrupted => "interrupted: " + interrupted.What,
            EditNoted => "an edit at the machine",
            RaiseChosen => "another raise was chosen",
            Note => "a note",
            _ => act.Meaning ?? "a change at the machine",
        };
}

/// <summary>Times as the shop's wall clock shows them.</summary>
public sealed record ShopClock(TimeZoneInfo Zone, TimeProvider Time)
{
    public string When(DateTimeOffset at) => Shown.When(at, Time.GetUtcNow(), Zone);
}
