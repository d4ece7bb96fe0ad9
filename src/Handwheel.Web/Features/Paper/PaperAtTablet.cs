using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Floor;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Serving.Network;
using Handwheel.Web.SigningIn;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Features.Paper;

/// <summary>
/// The way from paper to its job: the page that scans, the links that are printed, and the job to be read. All are GETs that
/// change nothing; an address that came out of a code is never gone to.
/// </summary>
static class PaperAtTablet
{
    public static void MapPaper(this WebApplication app)
    {
        app.MapGet("/floor/scan", Scan);
        app.MapGet("/floor/jobs/{number:int}", Show);
        app.MapGet("/paper/{**rest}", Printed);
    }

    static async Task<IResult> Scan(HttpContext http, PaperFinder finder, ShopAddresses addresses, string? code)
    {
        if (http.User.Actor() is null)
            return FloorEndpoints.SignInFirst(http);
        if (code is null)
            return ScanPageFor([], null);
        var read = PaperCode.Read(code, host => addresses.IsThisServer(host, http.Request));
        var (found, why) = await finder.Find(read);
        return found switch
        {
            [var one] => Results.LocalRedirect(
                $"/floor/jobs/{await NumberOf(http, one)}?paper={Uri.EscapeDataString(code.Trim())}"
            ),
            [] => ScanPageFor([], why),
            _ => ScanPageFor(await Choices(http, found, code), null),
        };
    }

    static RazorComponentResult<ScanPage> ScanPageFor(IReadOnlyList<ScanPage.Choice> choices, string? refused) =>
        FloorEndpoints.Page<ScanPage>(
            new() { [nameof(ScanPage.Choices)] = choices, [nameof(ScanPage.Refused)] = refused },
            refused is null ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity
        );

    static async Task<int> NumberOf(HttpContext http, PaperOf paper)
    {
        await using var db = await Databases(http).CreateDbContextAsync();
        return await db.Jobs.Where(j => j.Id == paper.JobId).Select(j => j.Number).SingleAsync();
    }

    static async Task<List<ScanPage.Choice>> Choices(HttpContext http, IReadOnlyList<PaperOf> found, string code)
    {
        await using var db = await Databases(http).CreateDbContextAsync();
        var ids = found.Select(f => f.JobId).ToList();
        var jobs = await db.Jobs.AsNoTracking().Where(j => ids.Contains(j.Id)).OrderBy(j => j.Number).ToListAsync();
        var machines = await db.Machines.AsNoTracking().ToDictionaryAsync(m => m.Id, m => m.Name);
        return
        [
            .. jobs.Select(j => new ScanPage.Choice(
                $"/floor/jobs/{j.Number}?paper={Uri.EscapeDataString(code.Trim())}",
                Said.In($"{FloorWords.TitleOf(j)} on {machines[j.MachineId]}")
            )),
        ];
    }

    /// <summary>The link that is printed, as the tablet's own camera app opens it.</summary>
    static IResult Printed(HttpContext http) =>
        Results.LocalRedirect(
            $"/floor/scan?code={Uri.EscapeDataString($"{http.Request.Scheme}://{http.Request.Host}{http.Request.Path}{http.Request.QueryString}")}"
        );

    static async Task<IResult> Show(
        HttpContext http,
        PaperFinder finder,
        ShopAddresses addresses,
        ProveOutReader reader,
        TimeProvider time,
        int number,
        string? paper
    )
    {
        if (http.User.Actor() is null)
            return FloorEndpoints.SignInFirst(http);
        await using var db = await Databases(http).CreateDbContextAsync();
        var job = await db.Jobs.AsNoTracking().Include(j => j.Files).SingleOrDefaultAsync(j => j.Number == number);
        if (job is null)
            return Results.NotFound();
        var of = paper is null
            ? []
            : (await finder.Find(PaperCode.Read(paper, host => addresses.IsThisServer(host, http.Request)))).Found;
        var machine = await db.Machines.AsNoTracking().SingleAsync(m => m.Id == job.MachineId);
        var state = await reader.StateOf(db, machine.Id);
        var clock = await ShopClock.Of(db, time);
        return FloorEndpoints.Page<JobAtTabletPage>(
            new()
            {
                [nameof(JobAtTabletPage.Banner)] = new Banner
                {
                    MachineId = machine.Id,
                    Machine = machine.Name,
                    Job = FloorWords.TitleOf(job),
                    Hazards = FloorWords.Hazards(state, clock),
                },
                [nameof(JobAtTabletPage.Job)] = job,
                [nameof(JobAtTabletPage.Paper)] = of.FirstOrDefault(o => o.JobId == job.Id),
                [nameof(JobAtTabletPage.UnderWay)] = state.UnderWay,
                [nameof(JobAtTabletPage.Clock)] = (Func<DateTimeOffset, string>)clock.When,
            }
        );
    }

    static IDbContextFactory<HandwheelDb> Databases(HttpContext http) =>
        http.RequestServices.GetRequiredService<IDbContextFactory<HandwheelDb>>();
}
