using System.Reflection;
using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.People;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Features.Demo;

/// <summary>
/// Fills an empty shop with the demo: two machines, roles as people, and three jobs. One is released with its record, one is
/// half-set with its offset still raised, one has findings that stop it.
/// </summary>
sealed class MakeDemoShop(
    ShopWriter writer,
    SecretHash hash,
    AddMachine machines,
    MakeJob jobs,
    StartProveOut start,
    DemoWalk walk,
    DemoClock clock
)
{
    static readonly Place Desk = Place.Browser("demo");

    /// <param name="now">The story ends a few minutes before it.</param>
    public async Task Run(DateTimeOffset now)
    {
        clock.Set(now.AddDays(-2));
        var actors = await People();
        var programmer = actors[DemoPeople.Programmer.Name];

        var cap = await Files("bearing-cap-op10");
        var cover = await Files("pump-cover-op20");
        var latch = await Files("latch-plate-op10");
        var mill1 = await MachineOf(cap.Setup, actors);
        var mill2 = await MachineOf(cover.Setup, actors);

        var capJob = await JobOf(programmer, mill1, cap);
        clock.Set(now.AddHours(-27));
        var released = (await start.Run(actors[DemoPeople.DaySetter.Name], Desk, capJob.Id)).Must;
        await walk.Run(
            released,
            phase => phase == Phase.FirstPiece ? DemoPeople.Operator : DemoPeople.DaySetter,
            actors,
            stopBefore: "first-piece.signed"
        );
        await walk.Run(released, _ => DemoPeople.DaySetter, actors);

        clock.Set(now.AddHours(-9));
        var coverJob = await JobOf(programmer, mill2, cover);
        clock.Set(now.AddHours(-4));
        var halfSet = (await start.Run(actors[DemoPeople.NightSetter.Name], Desk, coverJob.Id)).Must;
        await walk.Run(halfSet, _ => DemoPeople.NightSetter, actors, stopBefore: "air-cut.tool.3.position");

        clock.Set(now.AddHours(-1));
        await JobOf(programmer, mill1, latch);
    }

    async Task<IReadOnlyDictionary<string, Actor>> People()
    {
        var people = DemoPeople.All.Select(p => AddPerson.Make(hash, p.Name, p.Roles, p.Pin, p.Password)).ToList();
        await writer.Write(async db =>
        {
            var shop = await db.Shop();
            (shop.ShopName, shop.IsDemo) = ("Demo shop", true);
            db.People.AddRange(people);
            return await db.SaveChangesAsync();
        });
        return people.ToDictionary(p => p.Name, p => new Actor(p.Id, p.Name, p.Roles), StringComparer.Ordinal);
    }

    /// <summary>The machine's facts are those of the setup, less what belongs to one job.</summary>
    async Task<Data.Machine> MachineOf(Upload setup, IReadOnlyDictionary<string, Actor> actors)
    {
        var read = SetupFile.Read(setup.Bytes, setup.Name);
        var facts = new Setup
        {
            Units = read.Units,
            Machine = read.Machine,
            WorkOffsets = new Dictionary<Nc.WorkOffsetName, Offset>(),
            Tools = [],
            Parking = read.Parking,
        };
        var text = Encoding.UTF8.GetString(SetupFile.Write(facts));
        return (await machines.Run(actors[DemoPeople.Administrator.Name], read.Machine.Name, text)).Must;
    }

    async Task<Job> JobOf(Actor by, Data.Machine machine, (Upload Program, Upload Setup) files) =>
        (await jobs.Run(by, machine.Id, files.Program, files.Setup, [])).Must;

    static async Task<(Upload Program, Upload Setup)> Files(string name) =>
        (await FileOf(name + ".nc"), await FileOf(name + ".setup.json"));

    static async Task<Upload> FileOf(string name)
    {
        await using var stream =
            Assembly.GetExecutingAssembly().GetManifestResourceStream("demo/" + name)
            ?? throw new InvalidOperationException($"The demo's file {name} is not in the executable.");
        using var bytes = new MemoryStream();
        await stream.CopyToAsync(bytes);
        return new(name, bytes.ToArray());
    }
}
