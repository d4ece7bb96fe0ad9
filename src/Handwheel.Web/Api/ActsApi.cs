using System.Text.Json;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Api;

/// <summary>What a tablet sends while a program is proved out, and what it asks.</summary>
static class ActsApi
{
    const int BytesMost = 256 * 1024;

    public static void Map(RouteGroupBuilder api)
    {
        api.MapPost("/prove-outs/{id:guid}/acts", Take)
            .RequireAuthorization(Policies.ProvesOut)
            .WithName("TakeAct")
            .WithSummary("Takes one act of a person into a prove-out. The same Idempotency-Key counts once.");
        api.MapGet("/prove-outs/{id:guid}", Show)
            .RequireAuthorization(Policies.SignedIn)
            .WithName("ProveOut")
            .WithSummary("A prove-out as it stands, without the expected value of any blind reading.");
    }

    static async Task<IResult> Take(HttpContext http, Guid id, TakeAct take)
    {
        var key = http.Request.Headers["Idempotency-Key"].ToString();
        if (key.Length == 0)
            return Problems.Unreadable("The header Idempotency-Key is missing: give each act its own key.");
        if (http.User.Actor() is not { } by)
            return Results.Unauthorized();
        ActAsked asked;
        try
        {
            asked = await Read(http, id, key, by);
        }
        catch (Exception fault) when (fault is FormatException or JsonException or BadHttpRequestException)
        {
            return Problems.Unreadable(fault.Message);
        }
        try
        {
            var answer = await take.Run(asked);
            if (answer.Refused is not { } refused)
                return Results.Text(answer.Must, "application/json");
            http.Response.Headers.RetryAfter = refused.Because is Features.RefusedBecause.StillRunning ? "1" : default;
            return Problems.Of(refused);
        }
        catch (CannotSave fault)
        {
            return Problems.NotSaved(fault.Message);
        }
    }

    static async Task<ActAsked> Read(HttpContext http, Guid id, string key, Actor by)
    {
        if (http.Request.ContentLength > BytesMost)
            throw new FormatException($"An act has at most {BytesMost} bytes.");
        using var bounded = new MemoryStream();
        var buffer = new byte[16 * 1024];
        for (int read; (read = await http.Request.Body.ReadAsync(buffer, http.RequestAborted)) > 0; )
        {
            bounded.Write(buffer, 0, read);
            if (bounded.Length > BytesMost)
                throw new FormatException($"An act has at most {BytesMost} bytes.");
        }
        using var body = JsonDocument.Parse(bounded.ToArray());
        var root = body.RootElement;
        if (
            root.ValueKind != JsonValueKind.Object
            || !root.TryGetProperty("act", out var act)
            || !root.TryGetProperty("basedOn", out var basedOn)
            || !basedOn.TryGetInt64(out var number)
            || number < 0
        )
            throw new FormatException(
                "Found something else, expected { \"basedOn\": NUMBER, \"act\": { \"kind\": … } }."
            );
        var pin = root.TryGetProperty("pin", out var typed) ? typed.GetString() : null;
        return new(
            id,
            key,
            number,
            EntryJson.ReadAct(JsonSerializer.SerializeToUtf8Bytes(act)),
            by,
            http.User.Place(),
            http.User.SignedInByPassword(),
            pin,
            KeptOf(root)
        );
    }

    static KeptOnTablet? KeptOf(JsonElement root)
    {
        if (!root.TryGetProperty("kept", out var kept))
            return null;
        if (
            kept.ValueKind != JsonValueKind.Object
            || !kept.TryGetProperty("recorded", out var recorded)
            || recorded.ValueKind != JsonValueKind.String
            || !recorded.TryGetDateTimeOffset(out var at)
            || !kept.TryGetProperty("waited", out var waited)
            || waited.ValueKind != JsonValueKind.Number
            || !waited.TryGetInt64(out var seconds)
        )
            throw new FormatException(
                "Found something else, expected \"kept\": { \"recorded\": TIME, \"waited\": SECONDS }."
            );
        return new(at.ToUniversalTime(), seconds);
    }

    static async Task<IResult> Show(Guid id, ProveOutReader reader)
    {
        if (await reader.Open(id) is not { } open)
            return Results.NotFound();
        var proveOut = open.ProveOut;
        return Results.Ok(
            new
            {
                id,
                number = proveOut.Last,
                phase = proveOut.Phase,
                standing = proveOut.Standing.ToString(),
                machine = open.Machine.Name,
                hazards = proveOut.Ledger.Hazards.Select(h => h.Text),
                lockedOut = open.LockedOut?.Words,
                steps = proveOut.Steps,
            }
        );
    }
}
