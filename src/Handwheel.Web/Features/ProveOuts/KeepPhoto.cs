using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>
/// Keeps a photo without what the camera wrote beside the picture; a <see cref="PhotoAdded"/> then names it. The server never
/// decodes the picture.
/// </summary>
public sealed class KeepPhoto(ShopWriter writer, TimeProvider time)
{
    /// <summary>Largest photo, bytes.</summary>
    public const int BytesMost = 16 * 1024 * 1024;

    static ReadOnlySpan<byte> Jpeg => [0xFF, 0xD8, 0xFF];
    static ReadOnlySpan<byte> Png => [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A];

    /// <summary>The digest to name the photo by.</summary>
    public async Task<Answer<string>> Run(Actor by, byte[] photo)
    {
        if (!Policies.Allows(Policies.SignedIn, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, Said.In("Sign in first."));
        if (photo.Length > BytesMost)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                Said.In($"A photo has at most {BytesMost / 1024 / 1024} MiB.")
            );
        if (!IsPhoto(photo))
            return new Refusal(RefusedBecause.NotAcceptable, Said.In("This is neither a JPEG nor a PNG picture."));
        return await writer.Write<Answer<string>>(async db =>
        {
            var digest = await db.Keep(PhotoBytes.WithoutNotes(photo), time.GetUtcNow());
            await db.SaveChangesAsync();
            return digest;
        });
    }

    public static bool IsPhoto(ReadOnlySpan<byte> bytes) => bytes.StartsWith(Jpeg) || bytes.StartsWith(Png);

    public static string MediaType(ReadOnlySpan<byte> photo) => photo.StartsWith(Png) ? "image/png" : "image/jpeg";
}
