using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Features;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Handwheel.Web.Tests.Data;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Tests.Proving;

/// <summary>The small model's shop as real rows: its people, and a machine and a job of its own for each walk.</summary>
sealed class WalkedShop(TestShop shop)
{
    const string Pin = "204865";
    const string Program =
        "%\nO1234 (BRACKET)\nG20 G17 G40 G49 G80 G90\nT1 M6\nG55 G0 X1. Y1. S3000 M3\nG43 H1 Z0.1\n"
        + "G1 Z-0.5 F20.\nX2.\nG0 Z0.1\nG53 G0 Z0\nM30\n%\n";

    static readonly Place[] Tablets = [Place.Browser("tablet 1"), Place.Browser("tablet 2")];
    readonly Dictionary<Guid, Actor> people = [];
    int machines;

    public TestShop Shop => shop;
    public Machine Machine { get; private set; } = null!;
    public Guid ProveOut { get; private set; }

    public async Task Hire()
    {
        foreach (var actor in new[] { SmallShop.Setter, SmallShop.NightSetter, SmallShop.Supervisor })
        {
            var person = await shop.Hire(actor.Name, actor.Roles, Pin);
            people[actor.Person] = new(person.Id, person.Name, person.Roles);
        }
    }

    /// <summary>The person who stands for one of the model's.</summary>
    public Actor Real(Actor model) => people[model.Person];

    /// <summary>Another machine, a job on it, and its prove-out begun; the plan is what the real check makes of the files.</summary>
    public async Task<ProveOutPlan> Begin()
    {
        var name = $"Mill {++machines}";
        var setup = SmallShop.Setup(1);
        setup = setup with { Machine = setup.Machine with { Name = name } };
        var file = new Upload("bracket.setup.json", SetupFile.Write(setup));
        Machine = await TestJob.AddMachine(shop, file);
        var setter = Real(SmallShop.Setter);
        var job = await shop.Get<MakeJob>()
            .Run(setter, Machine.Id, new Upload("bracket.nc", Encoding.UTF8.GetBytes(Program)), file, []);
        ProveOut = (await shop.Get<StartProveOut>().Run(setter, Tablets[0], job.Must.Id)).Must.Id;
        return (await Open()).ProveOut.Plan;
    }

    public async Task<OpenedProveOut> Open() => (await shop.Get<ProveOutReader>().Open(ProveOut))!;

    public Task<Answer<string>> Take(Act act, Actor by, long basedOn, string key, int tablet = 0) =>
        shop.Get<TakeAct>()
            .Run(new(ProveOut, key, basedOn, act, by, Tablets[tablet], ByPassword: true, act.NeedsPin ? Pin : null));
}
