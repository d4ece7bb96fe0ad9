using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>Puts an allowed act at the end of a prove-out's list: entry, hash, readings for the ledger. Saved by the caller.</summary>
public sealed class AppendEntry(TimeProvider time)
{
    /// <summary>What was appended, and the prove-out after it.</summary>
    public sealed record Appended(Entry Entry, ProveOut After);

    public Answer<Appended> To(
        HandwheelDb db,
        ProveOutLog log,
        ProveOut before,
        Act act,
        Actor by,
        string place,
        long basedOn,
        KeptOnTablet? kept = null
    )
    {
        if (basedOn > before.Last)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In($"This was based on entry {basedOn}, but the prove-out has {before.Last}. Load the page again.")
            );
        var entry = new Entry(before.Last + 1, Now(), log.Zone, by, place, basedOn, act, kept);
        var reasons = before.WhyNot(entry);
        if (reasons.Count > 0)
            return new Refusal(
                before.ChangedSince(act, basedOn) is null
                    ? RefusedBecause.NotAcceptable
                    : RefusedBecause.ChangedMeanwhile,
                reasons
            );
        var after = before.Apply(entry);
        Store(db, log, entry);
        foreach (var reading in after.NewReadings)
            db.MachineReadings.Add(MachineReading.From(reading));
        if (after.HasEnded && !before.HasEnded)
        {
            log.End = after.Standing is Standing.Released ? ProveOutEnd.Released : ProveOutEnd.Abandoned;
            log.EndedAt = entry.At;
        }
        db.News.Add(new News(log.MachineId, log.JobId, log.Id));
        return new Appended(entry, after);
    }

    static void Store(HandwheelDb db, ProveOutLog log, Entry entry)
    {
        var body = EntryJson.Write(entry);
        var hash = RecordChain.Next(log.Id, entry.Number, Convert.FromHexString(log.LastHash), body);
        var hex = Convert.ToHexStringLower(hash);
        db.ProveOutEntries.Add(
            new ProveOutEntry
            {
                ProveOutId = log.Id,
                Number = entry.Number,
                At = entry.At,
                PersonId = entry.By.Person,
                Body = Encoding.UTF8.GetString(body),
                PreviousHash = log.LastHash,
                Hash = hex,
            }
        );
        log.LastNumber = entry.Number;
        log.LastHash = hex;
    }

    /// <summary>To the millisecond, which is as exact as a record needs and every store keeps.</summary>
    DateTimeOffset Now()
    {
        var now = time.GetUtcNow();
        return now.AddTicks(-(now.Ticks % TimeSpan.TicksPerMillisecond));
    }
}
