using Handwheel.Jobs.Checking;

namespace Handwheel.Tests.Jobs.Checking;

public sealed class NotCheckedGroupsTests
{
    [Fact]
    public void Lines_about_one_thing_stand_together_and_nothing_is_lost()
    {
        var groups = NotCheckedGroups.Of([
            "holder contact: T1 has no holder",
            "run time: the machine has no rapid rates",
            "holder contact: T4 has no holder",
            "holder contact: T5 has a holder but no stick-out",
            "holder contact: T4 has no holder",
            "chip load under G93",
        ]);
        Assert.Equal(["holder contact", "run time", "chip load under G93"], groups.Select(g => g.What));
        Assert.Equal(["T1, T4 have no holder", "T5 has a holder but no stick-out"], groups[0].Why);
        Assert.Equal(["the machine has no rapid rates"], groups[1].Why);
        Assert.Empty(groups[2].Why);
    }
}
