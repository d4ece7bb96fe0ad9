using System.Security.Claims;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.People;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.FirstStart;

/// <summary>
/// Whoever can read the console makes the first administrator, in the browser, with the code printed there. Works once;
/// ten wrong codes end it until the next start prints another.
/// </summary>
public sealed class MakeFirstAdministrator(ShopWriter writer, SecretHash hash)
{
    public const int Tries = 10;

    public async Task<Answer<ClaimsPrincipal>> Run(
        string code,
        string shopName,
        string name,
        string pin,
        string password,
        Place place
    )
    {
        const Roles roles = Roles.Administrator | Roles.Supervisor;
        if (AddPerson.WhyNot(name, roles, pin, password) is { Count: > 0 } reasons)
            return new Refusal(RefusedBecause.NotAcceptable, reasons);
        var stored = await writer.Write(TakeTry);
        if (stored.Refused is { } closed)
            return closed;
        if (!hash.Matches(FirstCode.AsPrinted(code), stored.Must))
            return new Refusal(
                RefusedBecause.WrongSecret,
                "That is not the code on the console. The newest one counts."
            );
        var person = AddPerson.Make(hash, name, roles, pin, password);
        return await writer.Write<Answer<ClaimsPrincipal>>(async db =>
        {
            var shop = await db.Shop();
            if (shop.FirstCodeHash != stored.Must || await db.People.AnyAsync())
                return TooLate;
            shop.FirstCodeHash = null;
            shop.ShopName = shopName.Trim();
            db.People.Add(person);
            await db.SaveChangesAsync();
            return PersonCookie.Principal(person, place, byPassword: true);
        });
    }

    static async Task<Answer<string>> TakeTry(HandwheelDb db)
    {
        var shop = await db.Shop();
        if (shop.FirstCodeHash is null)
            return TooLate;
        if (shop.FirstCodeFailures >= Tries)
            return new Refusal(
                RefusedBecause.Locked,
                $"{Tries} wrong codes. Start Handwheel again: it prints another."
            );
        shop.FirstCodeFailures++;
        await db.SaveChangesAsync();
        return shop.FirstCodeHash;
    }

    static Refusal TooLate =>
        new(RefusedBecause.ChangedMeanwhile, "The first administrator has been made. Ask that person to add you.");
}
