using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Floor;

/// <summary>A photo from the tablet's camera or its files: kept, then named by an entry.</summary>
static class PhotoAtTablet
{
    /// <summary>Room for the other fields of the form.</summary>
    const int FormMost = KeepPhoto.BytesMost + (1 << 20);

    public static void Map(RouteGroupBuilder floor) =>
        floor.MapPost("/prove-outs/{id:guid}/photos", Take).WithMetadata(new RequestSizeLimitAttribute(FormMost));

    static async Task<IResult> Take(
        HttpContext http,
        KeepPhoto keep,
        TakeAct take,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id
    )
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        var form = await http.Request.ReadFormAsync();
        var step = form["step"] is [{ Length: > 0 } named] ? named : null;
        using var bytes = new MemoryStream();
        if (form.Files.GetFile("photo") is { } file)
            await file.CopyToAsync(bytes);
        var kept = await keep.Run(by, bytes.ToArray());
        var refused = kept.Refused;
        if (refused is null)
        {
            var act = new PhotoAdded(kept.Must, step, form["act.caption"].ToString());
            refused = (await take.Run(ProveOutAtTablet.Asked(http, id, form, act))).Refused;
        }
        return refused is null
            ? Results.LocalRedirect(ProveOutAtTablet.AfterStep(id, step))
            : await ProveOutAtTablet.Page(http, reader, databases, time, id, step, refused);
    }
}
