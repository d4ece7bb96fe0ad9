using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>One act as it was asked for.</summary>
/// <param name="Key">The idempotency key: the same key is the same act, however often it is sent.</param>
/// <param name="BasedOn">Number of the last entry that the person's page had shown.</param>
/// <param name="Pin">For signatures; checked and forgotten.</param>
/// <param name="Kept">It waited on a tablet without connection; not part of what makes two requests the same.</param>
/// <param name="ByPassword">The person signed in with a password.</param>
public sealed record ActAsked(
    Guid ProveOut,
    string Key,
    long BasedOn,
    Act Act,
    Actor By,
    Place Place,
    bool ByPassword = false,
    string? Pin = null,
    KeptOnTablet? Kept = null
);

/// <summary>What came of it.</summary>
/// <param name="Number">The entry's number.</param>
/// <param name="Step">The step after it, null when the act was about no one step.</param>
public sealed record ActTaken(long Number, DateTimeOffset At, string Phase, string Standing, StepView? Step);

/// <summary>
/// Takes one act into a prove-out: the entry, its readings in the machine's ledger and the answer under its key are stored
/// in one transaction, or none of them is.
/// </summary>
public sealed class TakeAct(
    ShopWriter writer,
    ProveOutReader reader,
    AppendEntry append,
    SecretCheck secrets,
    EditAtMachine edits,
    IDbContextFactory<HandwheelDb> databases,
    TimeProvider time
)
{
    const int KeyMost = 100;
    const int DaysKept = 30;
    static readonly JsonSerializerOptions Web = new(JsonSerializerDefaults.Web);
    readonly ConcurrentDictionary<string, bool> running = new(StringComparer.Ordinal);

    /// <summary>The answer's body, byte for byte the same for the same key.</summary>
    public async Task<Answer<string>> Run(ActAsked asked)
    {
        if (asked.Key.Length is 0 or > KeyMost)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In($"The Idempotency-Key has 1 to {KeyMost} characters.")
            );
        if (asked.Act is Begun or ProgramChanged or SetupChanged)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In("A prove-out is begun, and its program or setup changed, at the job's page.")
            );
        if (
            asked.Act is EditNoted edit && (edit.Plan ?? edit.Program) is { }
            || asked.Act is EditNoted { Compared: { } }
        )
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In("What an edit means is worked out here: send line, old, new and why.")
            );
        if (asked.Kept?.WhyNot() is { } unkept)
            return new Refusal(RefusedBecause.NotAcceptable, unkept);
        if (!running.TryAdd(asked.Key, true))
            return new Refusal(RefusedBecause.StillRunning, Said.In("This is being saved at this moment. Ask again."));
        try
        {
            return await Once(asked, DigestOf(asked));
        }
        finally
        {
            running.TryRemove(asked.Key, out _);
        }
    }

    async Task<Answer<string>> Once(ActAsked asked, string digest)
    {
        await using (var db = await databases.CreateDbContextAsync())
        {
            if (await FirstAnswer(db, asked, digest) is { } first)
                return first;
            if (await WhyNotSign(db, asked) is { } unsigned)
                return unsigned;
        }
        if (asked.Act.NeedsPin)
        {
            var known = await secrets.Pin(asked.By.Person, asked.Pin ?? "", asked.Place);
            if (known.Refused is { } wrong)
                return wrong;
        }
        if (asked.Act is not EditNoted edit)
            return await writer.Write(db => Store(db, asked, digest, null));
        var worked = await edits.WorkOut(asked.ProveOut, edit, asked.By);
        return worked.Refused is { } unedited
            ? unedited
            : await writer.Write(db => Store(db, asked, digest, worked.Must));
    }

    async Task<Answer<string>> Store(HandwheelDb db, ActAsked asked, string digest, EditAtMachine.WorkedOut? edit)
    {
        if (await FirstAnswer(db, asked, digest) is { } first)
            return first;
        if (!await db.People.AnyAsync(p => p.Id == asked.By.Person && !p.Disabled))
            return new Refusal(RefusedBecause.NotAllowed, Said.In("This sign-in has ended. Sign in again."));
        if (asked.Act is PhotoAdded photo && !await db.Files.AnyAsync(f => f.Sha256 == photo.Sha256))
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In("The photo itself has not arrived. Send it first.")
            );
        if (await reader.Open(db, asked.ProveOut) is not { } open)
            return new Refusal(RefusedBecause.NotThere, Said.In("There is no such prove-out."));
        if (asked.Act is LockoutLifted && await WentOn(db, open.Log))
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                Said.In("Another prove-out was begun on this machine since, with what was locked out: sign it there.")
            );
        var appended = edit is null
            ? append.To(db, open.Log, open.ProveOut, asked.Act, asked.By, asked.Place.Name, asked.BasedOn, asked.Kept)
            : await edits.Store(db, open.Log, edit, asked);
        if (appended.Refused is { } refused)
            return refused;
        var answer = JsonSerializer.Serialize(AnswerOf(appended.Must), Web);
        await Remember(db, asked, digest, answer);
        await db.SaveChangesAsync();
        return answer;
    }

    static Task<bool> WentOn(HandwheelDb db, ProveOutLog log) =>
        db.ProveOuts.AnyAsync(p => p.MachineId == log.MachineId && p.StartedAt > log.StartedAt);

    static ActTaken AnswerOf(AppendEntry.Appended appended)
    {
        var (entry, after) = appended;
        var step = entry.Act.About is { } about ? after.Steps.FirstOrDefault(s => s.Id == about) : null;
        return new(entry.Number, entry.At, after.Phase.ToString(), after.Standing.ToString(), step);
    }

    static async Task<Answer<string>?> FirstAnswer(HandwheelDb db, ActAsked asked, string digest)
    {
        var key = await db.IdempotencyKeys.AsNoTracking().SingleOrDefaultAsync(k => k.Key == asked.Key);
        if (key is null)
            return null;
        return key.PersonId == asked.By.Person && key.RequestDigest == digest
            ? key.Answer
            : new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In("This Idempotency-Key was used for something else. Take a new one.")
            );
    }

    async Task Remember(HandwheelDb db, ActAsked asked, string digest, string answer)
    {
        var now = time.GetUtcNow();
        await db.IdempotencyKeys.Where(k => k.At < now.AddDays(-DaysKept)).ExecuteDeleteAsync();
        db.IdempotencyKeys.Add(
            new IdempotencyKey
            {
                Key = asked.Key,
                PersonId = asked.By.Person,
                RequestDigest = digest,
                Answer = answer,
                At = now,
            }
        );
    }

    /// <summary>A supervisor's signature on a tablet counts once somebody has used the password there that day.</summary>
    async Task<Refusal?> WhyNotSign(HandwheelDb db, ActAsked asked)
    {
        var supervises = asked.Act is DeviationSigned or OtherWaySigned or SentBack or Signed { As: SignedAs.Reviewed };
        if (!supervises || asked.ByPassword)
            return null;
        var shop = await db.Shop();
        var zone = TimeZoneInfo.FindSystemTimeZoneById(shop.Zone);
        var today = TimeZoneInfo.ConvertTime(time.GetUtcNow(), zone).Date;
        var used = asked.Place.Tablet is { } tablet
            ? (await db.Tablets.AsNoTracking().SingleOrDefaultAsync(t => t.Id == tablet))?.PasswordUsedAt
            : null;
        return used is { } at && TimeZoneInfo.ConvertTime(at, zone).Date == today
            ? null
            : new Refusal(
                RefusedBecause.NotAllowed,
                Said.In(
                    "A supervisor signs here with the PIN after signing in with the password on this tablet once today."
                )
            );
    }

    static string DigestOf(ActAsked asked)
    {
        var what = Encoding.UTF8.GetBytes($"{asked.ProveOut:N} {asked.BasedOn} {asked.By.Person:N} ");
        return Convert.ToHexStringLower(SHA256.HashData([.. what, .. EntryJson.WriteAct(asked.Act)]));
    }
}
