using System.Globalization;
using System.Text.RegularExpressions;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.People;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Handwheel.Web.Tests.Data;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>The app on a port of its own, with one machine, its people, and a job that can be walked to any step.</summary>
public sealed partial class JourneyShop : ShopApp
{
    public const string Pin = "730518";
    public const string Password = "gauge block under the tip";

    static readonly Place Bench = new(null, "tablet by Mill 9", "test");

    public Guid MachineId { get; private set; }
    public Guid JobId { get; private set; }
    public Actor DaySetter { get; private set; } = null!;
    public Actor NightSetter { get; private set; } = null!;
    public Actor Supervisor { get; private set; } = null!;

    /// <summary>What makes a browser the shop's tablet.</summary>
    public Cookie TabletCookie { get; private set; } = null!;

    public string Address => ClientOptions.BaseAddress.ToString().TrimEnd('/');

    /// <summary>How far its clock is ahead of the real one.</summary>
    public TimeSpan Ahead { get; set; }

    /// <summary>A page at the desk that lost its connection cannot go on where it was, as after the minutes for which a server keeps it.</summary>
    public bool ForgetsCircuits { get; init; }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        base.ConfigureWebHost(builder);
        builder.ConfigureTestServices(services =>
        {
            services.AddSingleton<TimeProvider>(new Clock(this));
            if (ForgetsCircuits)
                services.Configure<CircuitOptions>(o => o.DisconnectedCircuitMaxRetained = 0);
        });
    }

    /// <summary>Starts it and fills the shop; nothing is proved out yet.</summary>
    public async Task Open()
    {
        UseKestrel(0);
        StartServer();
        var first = new Actor(Guid.NewGuid(), "first", Roles.Administrator | Roles.Supervisor);
        DaySetter = await Hire(first, "Day setter", Roles.Setter | Roles.Operator);
        NightSetter = await Hire(first, "Night setter", Roles.Setter | Roles.Operator);
        Supervisor = await Hire(first, "Supervisor", Roles.Supervisor);
        var tablet = (await Get<NameTablet>().Run(first, "Tablet by Mill 9")).Must;
        TabletCookie = new()
        {
            Name = "handwheel-tablet",
            Value = $"{tablet.Tablet.Id:N}.{tablet.Secret}",
            Url = Address,
        };
        MachineId = (await Get<AddMachine>().Run(first, SpacerPlate.Machine, SpacerPlate.Facts)).Must.Id;
        var made = await Get<MakeJob>()
            .Run(
                DaySetter,
                MachineId,
                new Upload("spacer-plate.nc", SpacerPlate.ProgramBytes),
                new Upload("spacer-plate.setup.json", SpacerPlate.SetupBytes),
                []
            );
        JobId = made.Must.Id;
    }

    public T Get<T>()
        where T : notnull => Services.GetRequiredService<T>();

    async Task<Actor> Hire(Actor by, string name, Roles roles)
    {
        var password = SignIn.NeedsPassword(roles) ? Password : null;
        var person = (await Get<AddPerson>().Run(by, name, roles, "204865", password)).Must;
        var actor = new Actor(person.Id, person.Name, person.Roles);
        _ = (await Get<ChangePin>().Run(actor, Bench, byPassword: false, "204865", Pin)).Must;
        return actor;
    }

    /// <summary>Begins the prove-out and does every step, in order, until <paramref name="stop"/> is the next one.</summary>
    public async Task<Guid> WalkTo(string stop)
    {
        var proveOut = (await Get<StartProveOut>().Run(DaySetter, Bench, JobId)).Must.Id;
        while (await Next(proveOut) is { } step && step.Id != stop)
            await Do(proveOut, Answer(step));
        return proveOut;
    }

    public async Task<OpenedProveOut> Opened(Guid proveOut) => (await Get<ProveOutReader>().Open(proveOut))!;

    async Task<StepView?> Next(Guid proveOut) =>
        (await Opened(proveOut)).ProveOut.Steps.FirstOrDefault(s =>
            s.State is StepState.Open && s.WaitsFor.Count == 0 && s.Phase is not Phase.Parking
        );

    public async Task Do(Guid proveOut, Act act, Actor? by = null)
    {
        var seen = (await Opened(proveOut)).ProveOut.Last;
        var answer = await Get<TakeAct>()
            .Run(new(proveOut, Guid.NewGuid().ToString(), seen, act, by ?? DaySetter, Bench, Pin: Pin));
        Assert.True(answer.Refused is null, $"{act}: {answer.Refused}");
    }

    /// <summary>What somebody answers who sees what the control shows.</summary>
    public static Act Answer(StepView step) =>
        step.Takes switch
        {
            Takes.Seen => new FindingsSeen(step.Id),
            Takes.Tick or Takes.AgreesOrDiffers => new Ticked(step.Id),
            Takes.TickWithWords => new Ticked(step.Id, "as it should be"),
            Takes.ProgramLine => new LineTyped(step.Id, "O0900", SpacerPlate.Line(AskedLine(step.Where))),
            Takes.Reading or Takes.Percent => new ReadingTyped(step.Id, SpacerPlate.Reading(step.Id)),
            Takes.Measurement => new FirstPieceMeasured(step.Id, SpacerPlate.Reading(step.Id)),
            Takes.Signature => new Signed(step.Id, SignedAs.Did),
            _ => throw new InvalidOperationException($"{step.Id} takes {step.Takes}"),
        };

    public static int AskedLine(string where) =>
        int.Parse(Asked().Match(where).Groups["line"].Value, NumberStyles.None, CultureInfo.InvariantCulture);

    sealed class Clock(JourneyShop shop) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => base.GetUtcNow() + shop.Ahead;
    }

    [GeneratedRegex(@"in line (?<line>\d+)", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Asked();
}
