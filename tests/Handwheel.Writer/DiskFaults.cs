using System.Globalization;
using Handwheel.Data;
using Handwheel.Web.Features;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Handwheel.Writer;

/// <summary>The first, second, third … disk call of a note fails, until a note goes through without reaching the failing call.</summary>
static class DiskFaults
{
    const int InputOutput = 5; // EIO
    const int NoSpace = 28; // ENOSPC

    /// <summary>0: every failure was told and nothing told was lost; 1: not, and what.</summary>
    public static async Task<int> Run(ServiceProvider shop, Func<int, Task<Answer<string>>> note)
    {
        if (!Disk.IsWatched)
            throw new InvalidOperationException("disk.so was not loaded before this program");
        var number = 0;
        foreach (var error in new[] { InputOutput, NoSpace })
        {
            var call = 0;
            bool reached;
            do
            {
                number++;
                (reached, var wrong) = await One(shop, note, number, ++call, error);
                if (wrong is not null)
                {
                    Console.WriteLine($"call {call}, error {error}: {wrong}");
                    return 1;
                }
            } while (reached);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"error {error}: {call - 1} calls failed"));
        }
        if (await FullDisk(shop, note, number) is { } full)
        {
            Console.WriteLine("full disk: " + full);
            return 1;
        }
        return 0;
    }

    /// <summary>A disk that is full for a while: what is stored can be read, nothing is said to be saved, and it goes on without a new start.</summary>
    static async Task<string?> FullDisk(ServiceProvider shop, Func<int, Task<Answer<string>>> note, int last)
    {
        const int Tries = 20;
        Disk.Full(true);
        var refused = 0;
        for (var n = last + 1; n <= last + Tries; n++)
            try
            {
                _ = await note(n);
            }
            catch (CannotSave)
            {
                refused++;
            }
        var readable = await Count(shop, last);
        Disk.Full(false);
        if (refused != Tries || readable != 1)
            return $"{refused} of {Tries} notes were said not to be saved, the last one before was read {readable} times";
        for (var n = last + 1; n <= last + Tries; n++)
            if ((await note(n)).Refused is { } still)
                return $"refused when there was room again: {still}";
        for (var n = last + 1; n <= last + Tries; n++)
            if (await Count(shop, n) != 1)
                return $"note {n} is not there exactly once";
        Console.WriteLine($"full disk: {refused} notes told, then stored");
        return null;
    }

    static async Task<(bool Reached, string? Wrong)> One(
        ServiceProvider shop,
        Func<int, Task<Answer<string>>> note,
        int number,
        int call,
        int error
    )
    {
        Disk.FailAt(call, error);
        var acked = false;
        string? said = null;
        try
        {
            acked = (await note(number)).Refused is null;
        }
        catch (CannotSave cannot)
        {
            said = cannot.Message;
        }
        var failed = Disk.HasFailed;
        Disk.FailAt(0, 0);
        if (failed && acked && await Count(shop, number) != 1)
            return (failed, "acknowledged, and not there");
        if (!acked && said is null)
            return (failed, "neither acknowledged nor said that it cannot be saved");
        if (!failed && !acked)
            return (failed, "no call failed, and it was not saved");
        var since = shop.GetRequiredService<ShopWriter>().CannotSaveSince;
        if (acked == since is not null)
            return (
                failed,
                acked ? "saved, and the shop still says that it cannot" : "not saved, and the shop does not say so"
            );
        if ((await note(number)).Refused is { } refused)
            return (failed, $"sent again when the disk worked, and refused: {refused}");
        return (failed, await Count(shop, number) == 1 ? null : "sent again, and not stored exactly once");
    }

    static async Task<int> Count(ServiceProvider shop, int number)
    {
        await using var db = await shop.GetRequiredService<IDbContextFactory<HandwheelDb>>().CreateDbContextAsync();
        var text = string.Create(CultureInfo.InvariantCulture, $"\"note {number}\"");
        return (await db.ProveOutEntries.Select(e => e.Body).ToListAsync()).Count(b =>
            b.Contains(text, StringComparison.Ordinal)
        );
    }
}
