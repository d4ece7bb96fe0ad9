using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.People;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Floor;

/// <summary>The machines as a tablet shows them, a register read outside of a prove-out, and the start of a prove-out.</summary>
static class MachineAtTablet
{
    public static void Map(RouteGroupBuilder floor)
    {
        floor.MapGet("/", All);
        floor.MapGet("/machines/{id:guid}", Show);
        floor.MapPost("/machines/{id:guid}/readings", Read);
        floor.MapPost("/machines/{id:guid}/prove-outs", Begin);
    }

    static async Task<IResult> All(
        HttpContext http,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time
    )
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        await using var db = await databases.CreateDbContextAsync();
        var clock = await ShopClock.Of(db, time);
        var cards = new List<MachinesPage.Card>();
        foreach (
            var machine in await db.Machines.AsNoTracking().Where(m => !m.Retired).OrderBy(m => m.Name).ToListAsync()
        )
        {
            var state = await reader.StateOf(db, machine.Id);
            cards.Add(
                new(
                    machine.Id,
                    machine.Name,
                    FloorWords.Hazards(state, clock),
                    state.UnderWay is not { } open
                        ? Said.In("No prove-out is under way.")
                        : $"{FloorWords.TitleOf(open.Job)}: {FloorWords.StandsAt(open)}"
                )
            );
        }
        var place = http.User.Place();
        return FloorEndpoints.Page<MachinesPage>(
            new()
            {
                [nameof(MachinesPage.Machines)] = cards.OrderByDescending(c => c.Hazards.Count).ToList(),
                [nameof(MachinesPage.MayNameTablet)] =
                    place.Tablet is null && Policies.Allows(Policies.Supervises, by.Roles),
            }
        );
    }

    static Task<IResult> Show(
        HttpContext http,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id
    ) => Page(http, reader, databases, time, id, null, "");

    static async Task<IResult> Page(
        HttpContext http,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id,
        Refusal? refused,
        string said
    )
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        await using var db = await databases.CreateDbContextAsync();
        if (await db.Machines.AsNoTracking().SingleOrDefaultAsync(m => m.Id == id) is not { } machine)
            return Results.NotFound();
        var clock = await ShopClock.Of(db, time);
        var state = await reader.StateOf(db, id);
        var (open, ledger, _) = state;
        var jobs = open is null
            ? await db
                .Jobs.AsNoTracking()
                .Include(j => j.Files)
                .Where(j => j.MachineId == id && !j.PutAway)
                .OrderBy(j => j.Number)
                .ToListAsync()
            : [];
        var proven = await ProvenProgram.InUseOf(db, reader, jobs);
        return FloorEndpoints.Page<MachinePage>(
            new()
            {
                [nameof(MachinePage.Banner)] = open is null
                    ? new Banner
                    {
                        MachineId = id,
                        Machine = machine.Name,
                        Hazards = FloorWords.Hazards(state, clock),
                    }
                    : FloorWords.BannerOf(open, clock),
                [nameof(MachinePage.UnderWay)] = open is null
                    ? null
                    : new MachinePage.Running(
                        open.Log.Id,
                        FloorWords.TitleOf(open.Job),
                        FloorWords.StandsAt(open),
                        open.ProveOut.Standing is Standing.HandoffOpen,
                        open.ProveOut.WhyNot(new TakingOverAlone("why"), by).Count == 0,
                        open.LastEntry is { } last && last.By.Person != by.Person && ledger.Hazards.Count > 0
                            ? last.By.Name
                            : TakeOverLead.For(open.ProveOut, by, time.GetUtcNow())?.LeftBy
                    ),
                [nameof(MachinePage.Jobs)] = jobs.Select(j => new MachinePage.Startable(
                        j.Id,
                        FloorWords.TitleOf(j),
                        proven.Contains(j.Id)
                    ))
                    .ToList(),
                [nameof(MachinePage.LockedOut)] = state.LockedOut,
                [nameof(MachinePage.Left)] = Policies.Allows(Policies.ProvesOut, by.Roles) ? state.Left : null,
                [nameof(MachinePage.Last)] = Newest(ledger),
                [nameof(MachinePage.Raised)] = ledger
                    .Hazards.Where(h => h.Raised && h.Difference is { Nanometres: > 0 })
                    .Select(h => h.Register)
                    .ToHashSet(),
                [nameof(MachinePage.RaiseLost)] = (open?.ProveOut.RaisesLost ?? [])
                    .Select(l => new Register(l.LastRead.Register, l.LastRead.Axis))
                    .ToHashSet(),
                [nameof(MachinePage.Parking)] = open?.ProveOut.Plan.Parking ?? ParkingOf(machine),
                [nameof(MachinePage.Supervises)] = by.Has(Roles.Supervisor),
                [nameof(MachinePage.Refused)] = refused?.Reasons,
                [nameof(MachinePage.Recorded)] = said,
                [nameof(MachinePage.Clock)] = (Func<DateTimeOffset, string>)clock.When,
            },
            refused is null ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity
        );
    }

    static List<LedgerReading> Newest(Ledger ledger) =>
        [
            .. ledger
                .Readings.GroupBy(r => new Register(r.Register, r.Axis))
                .Select(r => r.Last())
                .OrderByDescending(r => ledger.HazardOf(new(r.Register, r.Axis)) is not null)
                .ThenBy(r => r.Register, StringComparer.Ordinal)
                .ThenBy(r => r.Axis, StringComparer.Ordinal),
        ];

    static IReadOnlyList<string> ParkingOf(Machine machine)
    {
        try
        {
            return SetupFile.Read(System.Text.Encoding.UTF8.GetBytes(machine.Facts), machine.Name).Parking;
        }
        catch (InputFault)
        {
            // The machine's page at the desk says what is wrong with its facts; here there is just no list.
            return [];
        }
    }

    static async Task<IResult> Read(
        HttpContext http,
        ReadRegister read,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id
    )
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        var form = await http.Request.ReadFormAsync();
        var named = form["register"].ToString().Split(' ');
        if (named is not [var name, var axis])
            return Results.BadRequest();
        var pin = form["pin"] is [{ Length: > 0 } typedPin] ? typedPin : null;
        var answer = await read.Run(by, http.User.Place(), id, new Register(name, axis), form["typed"].ToString(), pin);
        return await Page(
            http,
            reader,
            databases,
            time,
            id,
            answer.Refused,
            answer.Refused is null ? WhatCame(answer.Must) : ""
        );
    }

    static async Task<IResult> Begin(
        HttpContext http,
        StartProveOut start,
        ProveOutReader reader,
        IDbContextFactory<HandwheelDb> databases,
        TimeProvider time,
        Guid id
    )
    {
        if (http.User.Actor() is not { } by)
            return FloorEndpoints.SignInFirst(http);
        var form = await http.Request.ReadFormAsync();
        _ = Guid.TryParse(form["job"], out var job);
        var purpose = form["purpose"] == "again" ? Purpose.SetUpAgain : Purpose.Prove;
        var answer = await start.Run(by, http.User.Place(), job, purpose);
        return answer.Refused is { } refused
            ? await Page(http, reader, databases, time, id, refused, "")
            : Results.LocalRedirect($"/floor/prove-outs/{answer.Must.Id}");
    }

    static string WhatCame(LedgerReading reading)
    {
        var register = new Register(reading.Register, reading.Axis);
        if (reading.Expectation.Baseline is not { } baseline)
            return Said.In($"{register} recorded.");
        return baseline == reading.Value
            ? Said.In($"{register} recorded: as it should be.")
            : Said.In(
                $"{register} recorded: off by {(reading.Value - baseline).ToRegisterText(reading.Units)} {reading.Units.Symbol()}. It stays on the board until it is read and right."
            );
    }
}
