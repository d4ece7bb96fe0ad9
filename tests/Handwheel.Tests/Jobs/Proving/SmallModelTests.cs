using Handwheel.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Proving;

public class SmallModelTests
{
    const int Most = 3_000;

    public static TheoryData<int> FaultNumbers => [.. Enumerable.Range(0, PlantedFaults.All.Count)];

    [Fact]
    public void No_state_breaks_an_interlock()
    {
        var (states, broken, _) = SmallModel.Explore(Fault.None, Most);
        Assert.True(broken is null, broken);
        Assert.True(states > 500, $"only {states} states");
    }

    public static TheoryData<string> PartNames => [.. SmallModel.Parts.Keys];

    [Theory]
    [MemberData(nameof(PartNames))]
    public void No_state_of_a_part_breaks_an_interlock(string part)
    {
        var (states, broken, _) = SmallModel.Explore(Fault.None, 100_000, moves: SmallModel.Parts[part]);
        Assert.True(broken is null, broken);
        Assert.True(states < 100_000, "not to the last state");
        TestContext.Current.TestOutputHelper?.WriteLine(
            $"{part}: {states} states, {SmallModel.Parts[part].Count} moves"
        );
    }

    [Theory]
    [MemberData(nameof(PartNames))]
    public void A_state_goes_on_alike_whichever_way_led_there(string part)
    {
        var apart = SmallModel.GoesOnDifferently(SmallModel.Parts[part], 6_000, seed: 20260302);
        Assert.True(apart is null, apart);
    }

    [Theory]
    [MemberData(nameof(FaultNumbers))]
    public void Every_planted_fault_is_caught(int number)
    {
        var (states, broken, _) = SmallModel.Explore(PlantedFaults.All[number], 20 * Most);
        Assert.True(broken is not null, $"{PlantedFaults.All[number].Name}: not caught in {states} states");
    }
}
