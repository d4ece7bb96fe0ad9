using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.People;

/// <summary>An administrator adds somebody. The PIN given out here has to be changed at the first sign-in.</summary>
public sealed class AddPerson(ShopWriter writer, SecretHash hash)
{
    public async Task<Answer<Person>> Run(Actor by, string name, Roles roles, string pin, string? password = null)
    {
        if (!Policies.Allows(Policies.Administers, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Only an administrator adds people.");
        if (WhyNot(name, roles, pin, password) is { Count: > 0 } reasons)
            return new Refusal(RefusedBecause.NotAcceptable, reasons);
        var person = Make(hash, name, roles, pin, password);
        person.PinToBeChanged = true;
        return await writer.Write<Answer<Person>>(async db =>
        {
            if (await db.People.AnyAsync(p => p.Name == person.Name))
                return new Refusal(
                    RefusedBecause.NotAcceptable,
                    $"There is a {person.Name} already. Records need names that tell people apart."
                );
            db.People.Add(person);
            db.News.Add(new News());
            await db.SaveChangesAsync();
            return person;
        });
    }

    internal static List<string> WhyNot(string name, Roles roles, string pin, string? password)
    {
        var reasons = new List<string?>
        {
            SecretRules.WhyNotName(name),
            roles == Roles.None ? "Choose at least one role." : null,
            SecretRules.WhyNotPin(pin),
            SignIn.NeedsPassword(roles) || !string.IsNullOrEmpty(password)
                ? SecretRules.WhyNotPassword(password)
                : null,
        };
        return [.. reasons.OfType<string>()];
    }

    internal static Person Make(SecretHash hash, string name, Roles roles, string pin, string? password) =>
        new()
        {
            Name = name.Trim(),
            Roles = roles,
            PinHash = hash.Of(pin),
            PasswordHash = string.IsNullOrEmpty(password) ? null : hash.Of(password),
        };
}
