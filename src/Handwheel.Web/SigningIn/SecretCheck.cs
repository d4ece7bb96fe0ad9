using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.SigningIn;

/// <summary>
/// Checks a PIN or a password, with the limits on guessing: 10 wrong PINs in a row lock a person's PIN until a supervisor
/// resets it; 30 wrong tries in an hour lock a tablet; 100 in a day lock PINs for everybody but supervisors. A try is
/// counted in the database before it is checked, so neither a restart nor many tries at once get round the count.
/// </summary>
public sealed class SecretCheck(ShopWriter writer, SecretHash hash, TimeProvider time)
{
    public const int PinTries = 10;
    public const int PasswordTries = 100;
    public const int TabletTriesAnHour = 30;
    public const int ShopTriesADay = 100;
    const Roles Supervising = Roles.Supervisor | Roles.Administrator;

    sealed record Try(long Number, string? StoredHash);

    public Task<Answer<Person>> Pin(Guid person, string pin, Place place) =>
        Check(person, pin, place, byPassword: false);

    public Task<Answer<Person>> Password(Guid person, string password, Place place) =>
        Check(person, password, place, byPassword: true);

    async Task<Answer<Person>> Check(Guid id, string secret, Place place, bool byPassword)
    {
        var counted = await writer.Write(db => Count(db, id, place, byPassword));
        if (counted.Refused is { } locked)
            return locked;
        var tried = counted.Must;
        if (!hash.Matches(secret, tried.StoredHash))
            return new Refusal(
                RefusedBecause.WrongSecret,
                byPassword
                    ? Said.In("That name and password do not go together.")
                    : Said.In("That name and PIN do not go together.")
            );
        return await writer.Write(db => Accept(db, id, place, tried, byPassword));
    }

    async Task<Answer<Try>> Count(HandwheelDb db, Guid id, Place place, bool byPassword)
    {
        var now = time.GetUtcNow();
        await db.FailedSignIns.Where(f => f.At < now.AddDays(-2)).ExecuteDeleteAsync();
        var person = await db.People.SingleOrDefaultAsync(p => p.Id == id);
        if (await WhyLocked(db, person, place, byPassword, now) is { } locked)
            return new Refusal(RefusedBecause.Locked, locked);
        var failure = new FailedSignIn
        {
            At = now,
            Where = place.Key,
            PersonId = person?.Id,
        };
        db.FailedSignIns.Add(failure);
        if (person is not null)
        {
            if (byPassword)
                person.FailedPasswords++;
            else
                person.FailedPins++;
        }
        await db.SaveChangesAsync();
        var stored =
            person is null or { Disabled: true } ? null
            : byPassword ? person.PasswordHash
            : person.PinHash;
        return new Try(failure.Number, stored);
    }

    static async Task<string?> WhyLocked(
        HandwheelDb db,
        Person? person,
        Place place,
        bool byPassword,
        DateTimeOffset now
    )
    {
        var hourAgo = now.AddHours(-1);
        if (await db.FailedSignIns.CountAsync(f => f.Where == place.Key && f.At > hourAgo) >= TabletTriesAnHour)
            return Said.In(
                $"{TabletTriesAnHour} wrong tries here within an hour. Signing in here is locked until they are an hour old; another tablet works."
            );
        if (byPassword)
            return person?.FailedPasswords >= PasswordTries
                ? Said.In("Too many wrong passwords. An administrator has to set a new one.")
                : null;
        if (person?.FailedPins >= PinTries)
            return Said.In($"{PinTries} wrong PINs in a row. A supervisor has to reset the PIN of {person.Name}.");
        var dayAgo = now.AddDays(-1);
        var supervises = person is not null && (person.Roles & Supervising) != Roles.None;
        if (!supervises && await db.FailedSignIns.CountAsync(f => f.At > dayAgo) >= ShopTriesADay)
            return Said.In(
                $"{ShopTriesADay} wrong tries in this shop within a day. PINs are locked for everybody but supervisors until a supervisor has looked into it."
            );
        return null;
    }

    async Task<Answer<Person>> Accept(HandwheelDb db, Guid id, Place place, Try tried, bool byPassword)
    {
        var person = await db.People.SingleAsync(p => p.Id == id);
        var stored = byPassword ? person.PasswordHash : person.PinHash;
        if (person.Disabled || stored != tried.StoredHash)
            return new Refusal(
                RefusedBecause.ChangedMeanwhile,
                Said.In("This sign-in was changed a moment ago. Sign in again.")
            );
        await db.FailedSignIns.Where(f => f.Number == tried.Number).ExecuteDeleteAsync();
        if (byPassword)
            person.FailedPasswords = 0;
        else
            person.FailedPins = 0;
        if (byPassword && place.Tablet is { } tablet)
            (await db.Tablets.SingleAsync(t => t.Id == tablet)).PasswordUsedAt = time.GetUtcNow();
        await db.SaveChangesAsync();
        return person;
    }
}
