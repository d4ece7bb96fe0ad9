using System.Text.Json.Nodes;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;

namespace Handwheel.Web.Tests.Data;

/// <summary>A machine, a job on it and people who know their PINs, for tests that need a prove-out.</summary>
public sealed class TestJob
{
    public const string Pin = "204865";

    public required TestShop Shop { get; init; }
    public required Machine Machine { get; init; }
    public required Job Job { get; init; }
    public required Actor Setter { get; init; }
    public Guid ProveOut { get; private set; }

    public static Upload File(string name) =>
        new(name, System.IO.File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "jobs", name)));

    /// <summary>A clean job of the demo shop's, on a machine of its own, not begun.</summary>
    public static async Task<TestJob> Make(TestShop shop, string name = "bearing-cap-op10")
    {
        var setup = File(name + ".setup.json");
        var machine = await AddMachine(shop, setup);
        var setter = await shop.Hire("day setter", Roles.Setter | Roles.Operator, Pin);
        var actor = new Actor(setter.Id, setter.Name, setter.Roles);
        var job = await shop.Get<MakeJob>().Run(actor, machine.Id, File(name + ".nc"), setup, []);
        return new()
        {
            Shop = shop,
            Machine = machine,
            Job = job.Must,
            Setter = actor,
        };
    }

    /// <summary>The same files once more as another job on the same machine.</summary>
    public static async Task<TestJob> Again(TestJob first, string name = "bearing-cap-op10")
    {
        var job = await first
            .Shop.Get<MakeJob>()
            .Run(first.Setter, first.Machine.Id, File(name + ".nc"), File(name + ".setup.json"), []);
        return new()
        {
            Shop = first.Shop,
            Machine = first.Machine,
            Job = job.Must,
            Setter = first.Setter,
        };
    }

    public static async Task<Machine> AddMachine(TestShop shop, Upload setup)
    {
        var document = JsonNode.Parse(setup.Bytes)!.AsObject();
        var facts = new JsonObject
        {
            ["format"] = "handwheel-setup/1",
            ["units"] = document["units"]!.DeepClone(),
            ["machine"] = document["machine"]!.DeepClone(),
            ["workOffsets"] = new JsonObject(),
            ["tools"] = new JsonArray(),
        };
        var name = (string)document["machine"]!["name"]!;
        return (await shop.Get<AddMachine>().Run(TestShop.Boss, name, facts.ToJsonString())).Must;
    }

    public async Task<TestJob> Begin()
    {
        var started = await Shop.Get<StartProveOut>().Run(Setter, TestShop.Desk, Job.Id);
        ProveOut = started.Must.Id;
        return this;
    }

    public async Task<OpenedProveOut> Open() => (await Shop.Get<ProveOutReader>().Open(ProveOut))!;

    /// <summary>A step that can be ticked now.</summary>
    public async Task<StepView> Tickable() =>
        (await Open()).ProveOut.Steps.First(s => s is { Takes: Takes.Tick, State: StepState.Open, WaitsFor.Count: 0 });

    public Task<Answer<string>> Take(
        Act act,
        long basedOn,
        string? key = null,
        Actor? by = null,
        string? pin = null,
        Place? at = null
    ) =>
        Shop.Get<TakeAct>()
            .Run(
                new ActAsked(
                    ProveOut,
                    key ?? Guid.NewGuid().ToString(),
                    basedOn,
                    act,
                    by ?? Setter,
                    at ?? TestShop.Desk,
                    Pin: pin
                )
            );
}
