using Handwheel.Data;

namespace Handwheel.Web.Api;

/// <summary>Finds out whether a database that could not be written can be written again.</summary>
static class ShopProbe
{
    public static async Task TryToWrite(ShopWriter writer)
    {
        try
        {
            await writer.Write(async db =>
            {
                (await db.Shop()).Version++;
                return await db.SaveChangesAsync();
            });
        }
        catch (CannotSave)
        {
            // CannotSaveSince still says so
        }
    }
}
