using System.Security.Cryptography;
using Handwheel.Data;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.FirstStart;

/// <summary>The one-time code that the console prints while nobody is in the shop's list. Each start prints another.</summary>
public sealed class FirstCode(ShopWriter writer, SecretHash hash)
{
    /// <summary>No I, L, O, U, 0 or 1: nothing that is read wrong off a console.</summary>
    const string Letters = "ABCDEFGHJKMNPQRSTVWXYZ23456789";
    const int Length = 10;

    /// <summary>Null when the shop has people.</summary>
    public async Task<string?> Renew()
    {
        var code = RandomNumberGenerator.GetString(Letters, Length);
        var hashed = hash.Of(code);
        var wanted = await writer.Write(async db =>
        {
            var shop = await db.Shop();
            var empty = !await db.People.AnyAsync();
            shop.FirstCodeHash = empty ? hashed : null;
            shop.FirstCodeFailures = 0;
            await db.SaveChangesAsync();
            return empty;
        });
        return wanted ? code.Insert(Length / 2, "-") : null;
    }

    internal static string AsPrinted(string typed) =>
        typed
            .Trim()
            .Replace("-", "", StringComparison.Ordinal)
            .Replace(" ", "", StringComparison.Ordinal)
            .ToUpperInvariant();
}
