using System.Globalization;
using Handwheel.Data;
using Handwheel.Tests.Jobs.Proving;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Tests.Data;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Proving;

/// <summary>
/// The small model on real databases: every part of it, and all moves together. Samples here but for one part;
/// HANDWHEEL_EDGES=all drives every edge of every part on both databases, a number so many of each.
/// </summary>
public sealed class EdgeWalkTests(PostgresCluster cluster)
{
    const string Whole = "deviations";
    static readonly string? Asked = Environment.GetEnvironmentVariable("HANDWHEEL_EDGES");

    public static TheoryData<string, Engine> Parts
    {
        get
        {
            var data = new TheoryData<string, Engine>();
            foreach (var part in SmallModel.Parts.Keys)
            foreach (var engine in Enum.GetValues<Engine>())
                data.Add(part, engine);
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Parts))]
    public async Task The_stored_prove_out_goes_the_way_of_the_part(string part, Engine engine)
    {
        var moves = SmallModel.Parts[part];
        var most = Most(
            part == Whole && engine == Engine.Sqlite ? int.MaxValue
            : engine == Engine.Sqlite ? 50
            : 15
        );
        var walk = await Drive(engine, most, moves);
        if (walk.Edges >= most)
            return;
        var (states, _, _) = SmallModel.Explore(Fault.None, int.MaxValue, walk.Plan, moves);
        // No edge was left: all that the model says there are.
        Assert.Equal((states, states * moves.Count), (walk.States, walk.Edges));
    }

    [Theory, EachDatabase]
    public async Task The_stored_prove_out_goes_the_way_of_the_model(Engine engine) =>
        Assert.InRange(
            (await Drive(engine, Asked == "all" ? 100 : Most(100), SmallModel.Moves)).Edges,
            100,
            int.MaxValue
        );

    async Task<EdgeWalk> Drive(Engine engine, int most, IReadOnlyList<SmallModel.Move> moves)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var walked = new WalkedShop(shop);
        await walked.Hire();
        var walk = new EdgeWalk(walked, Fault.None, seed: 20260302, moves);
        var apart = await walk.Run(most);
        Assert.True(apart is null, apart);
        TestContext.Current.TestOutputHelper?.WriteLine(
            $"{walk.Edges} edges from {walk.States} states, {walk.Acts} acts"
        );
        return walk;
    }

    static int Most(int sample) =>
        Asked is not { Length: > 0 } ? sample
        : Asked == "all" ? int.MaxValue
        : int.Parse(Asked, NumberStyles.None, CultureInfo.InvariantCulture);

    public static TheoryData<int> FaultNumbers => [.. Enumerable.Range(0, PlantedFaults.All.Count)];

    /// <summary>A fault in the rules of one side: the way that breaks an interlock there is driven on the database, and the two must come apart.</summary>
    [Theory]
    [MemberData(nameof(FaultNumbers))]
    public async Task A_model_with_a_planted_fault_comes_apart_from_the_app(int number)
    {
        var fault = PlantedFaults.All[number];
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var walked = new WalkedShop(shop);
        await walked.Hire();
        var plan = await walked.Begin();
        var (_, broken, path) = SmallModel.Explore(fault, 60_000, plan);
        Assert.True(broken is not null, $"{fault.Name} breaks nothing in the model");
        Assert.Null(await new EdgeWalk(walked, Fault.None, seed: 1).Along(path));
        var apart = await new EdgeWalk(walked, fault, seed: 1).Along(path);
        Assert.True(apart is not null, $"{fault.Name}: not seen on the way {broken}");
    }

    static readonly (string Name, string[] Statements)[] Stores =
    [
        (
            "a reading is not kept",
            ["""DELETE FROM "MachineReadings" WHERE "Number" = (SELECT MAX("Number") FROM "MachineReadings")"""]
        ),
        (
            "a reading is rounded",
            [
                """UPDATE "MachineReadings" SET "Value" = "Value" / 1000000 * 1000000 + 1 WHERE "Number" = (SELECT MAX("Number") FROM "MachineReadings")""",
            ]
        ),
        ("the answer to an act is forgotten", ["""DELETE FROM "IdempotencyKeys" """]),
        (
            "the last entry is lost",
            [
                """DELETE FROM "ProveOutEntries" WHERE "Number" = (SELECT "LastNumber" FROM "ProveOuts" p WHERE p."Id" = "ProveOutId")""",
                """UPDATE "ProveOuts" SET "LastNumber" = "LastNumber" - 1""",
            ]
        ),
        (
            "an entry is another person's",
            ["""UPDATE "ProveOutEntries" SET "Body" = REPLACE("Body", '"name":"setter"', '"name":"night setter"')"""]
        ),
        (
            "what was typed is another value",
            ["""UPDATE "ProveOutEntries" SET "Body" = REPLACE("Body", '"typed":"0.0000"', '"typed":"0.0001"')"""]
        ),
        ("a hash is not the entry's", ["""UPDATE "ProveOutEntries" SET "Hash" = "PreviousHash" """]),
        ("the prove-out has ended by itself", ["""UPDATE "ProveOuts" SET "End" = 1"""]),
        (
            "the head stays behind",
            [
                """UPDATE "ProveOuts" SET "LastHash" = (SELECT "PreviousHash" FROM "ProveOutEntries" e WHERE e."ProveOutId" = "Id" ORDER BY "Number" DESC LIMIT 1)""",
            ]
        ),
    ];

    public static TheoryData<int> StoreNumbers => [.. Enumerable.Range(0, Stores.Length)];

    /// <summary>A fault of the database's side, planted after each act behind the back of the app.</summary>
    [Theory]
    [MemberData(nameof(StoreNumbers))]
    public async Task A_planted_fault_in_what_is_stored_is_seen(int number)
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var walked = new WalkedShop(shop);
        await walked.Hire();
        await using (var db = await shop.Db())
            foreach (
                var drop in new[]
                {
                    """DROP TRIGGER "ProveOutEntries_no_update" """,
                    """DROP TRIGGER "ProveOutEntries_no_delete" """,
                    """DROP TRIGGER "MachineReadings_no_update" """,
                    """DROP TRIGGER "MachineReadings_no_delete" """,
                }
            )
                await db.Database.ExecuteSqlRawAsync(drop);
        var walk = new EdgeWalk(walked, Fault.None, seed: 1)
        {
            Sabotage = async (db, _) =>
            {
                foreach (var statement in Stores[number].Statements)
                    await db.Database.ExecuteSqlRawAsync(statement);
            },
        };
        Assert.True(await walk.Run(60) is not null, $"{Stores[number].Name}: not seen");
    }
}
