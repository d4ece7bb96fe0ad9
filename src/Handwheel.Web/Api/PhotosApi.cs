using Handwheel.Data;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Api;

/// <summary>Photos of a prove-out: sent first, named by an act afterwards.</summary>
static class PhotosApi
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapPost("/photos", Keep)
            .RequireAuthorization(Policies.ProvesOut)
            .WithMetadata(new RequestSizeLimitAttribute(KeepPhoto.BytesMost))
            .WithName("KeepPhoto")
            .WithSummary("Keeps a JPEG or PNG picture, sent as the body; answers its SHA-256.");
        api.MapGet("/photos/{sha256:regex(^[0-9a-f]{{64}}$)}", Show)
            .RequireAuthorization(Policies.SignedIn)
            .WithName("Photo");
    }

    static async Task<IResult> Keep(HttpContext http, KeepPhoto keep)
    {
        if (http.User.Actor() is not { } by)
            return Results.Unauthorized();
        using var bytes = new MemoryStream();
        await http.Request.Body.CopyToAsync(bytes, http.RequestAborted);
        try
        {
            var answer = await keep.Run(by, bytes.ToArray());
            return answer.Refused is { } refused ? Problems.Of(refused) : Results.Ok(new { sha256 = answer.Must });
        }
        catch (CannotSave fault)
        {
            return Problems.NotSaved(fault.Message);
        }
    }

    /// <summary>Only what is a picture: a program or a plan is not served here.</summary>
    static async Task<IResult> Show(HttpContext http, string sha256, IDbContextFactory<HandwheelDb> databases)
    {
        await using var db = await databases.CreateDbContextAsync();
        var file = await db.Files.AsNoTracking().SingleOrDefaultAsync(f => f.Sha256 == sha256);
        if (file is null || !KeepPhoto.IsPhoto(file.Content))
            return Results.NotFound();
        http.Response.Headers.ContentSecurityPolicy = "sandbox; default-src 'none'";
        http.Response.Headers.XContentTypeOptions = "nosniff";
        return Results.Bytes(file.Content, KeepPhoto.MediaType(file.Content));
    }
}
