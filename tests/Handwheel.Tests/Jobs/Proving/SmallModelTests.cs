using Handwheel.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Proving;

public class SmallModelTests
{
    const int Most = 3_000;

    static bool On(Act act, string step) =>
        act is StepAct about && about.Step.StartsWith(step, StringComparison.Ordinal);

    static void Stays(Course before, Course after, params string[] steps)
    {
        foreach (var step in steps)
            after[step] = before[step];
    }

    static void TakenAsRight(Course after, Entry entry, string step)
    {
        if (On(entry.Act, step) && after[step].State is StepState.ReadAgain or StepState.Refused)
            after[step] = after[step] with { State = StepState.Done };
    }

    static readonly Fault[] Faults =
    [
        Fault.NotAsked(
            "first cut does not look at the ledger",
            a => On(a, "first-cut."),
            "was last read",
            "has not been read",
            "First:"
        ),
        Fault.NotAsked(
            "first cut does not wait for the phases before",
            a => On(a, "first-cut."),
            "First:",
            "has not been read"
        ),
        Fault.NotAsked("air-cut cards do not look at the raise", a => On(a, "air-cut.tool."), "raise", "First:"),
        Fault.NotAsked("tools are measured while raised", a => On(a, "ready.tool.1.length"), "would hold the raise"),
        Fault.NotAsked("a work offset is set while raised", a => a is BaselineChanged, "would hold the raise"),
        Fault.NotAsked("steps go on while a handoff is open", a => a is StepAct, "handing over", "handoff"),
        Fault.NotAsked("who hands over takes over", a => a is TookOver, "The incoming person signs", "and signs"),
        Fault.NotAsked("taken over without reading back", a => a is TookOver, "Read back first"),
        Fault.NotAsked("released with steps open", a => On(a, "release.signed"), "Open still", "First:"),
        Fault.NotAsked("released by anybody", a => On(a, "release.signed"), "This is for"),
        Fault.NotAsked("deviations signed by anybody", a => a is DeviationSigned, "This is for"),
        Fault.Wrong("a wrong raise is taken as right", (_, after, e) => TakenAsRight(after, e, "air-cut.raised.G55.z")),
        Fault.Wrong(
            "still raised is taken as restored",
            (_, after, e) => TakenAsRight(after, e, "restore.offset.G55.z")
        ),
        Fault.Wrong(
            "raising again leaves restored done",
            (before, after, e) =>
            {
                if (On(e.Act, "air-cut.raised.G55.z"))
                    Stays(before, after, "restore.offset.G55.z", "restore.reset");
            }
        ),
        Fault.Wrong(
            "another length opens nothing",
            (before, after, e) =>
            {
                if (e.Act is LengthChanged)
                    Stays(before, after, "ready.tool.1.length");
            }
        ),
        Fault.Wrong(
            "a replaced tool keeps its card",
            (before, after, e) =>
            {
                if (e.Act is ToolReplaced)
                    Stays(before, after, "air-cut.tool.1.machine-z");
            }
        ),
        Fault.Wrong(
            "another baseline opens nothing after the air cut",
            (before, after, e) =>
            {
                if (e.Act is BaselineChanged)
                    Stays(before, after, "restore.offset.G55.z");
            }
        ),
        Fault.Wrong(
            "a change clears the ledger",
            (_, after, e) =>
            {
                if (e.Act is LengthChanged)
                    after.Ledger = Ledger.Empty;
            }
        ),
        Fault.Wrong(
            "a reading back is not kept in the ledger",
            (before, after, e) =>
            {
                if (On(e.Act, "read-back.G55.z"))
                    after.Ledger = before.Ledger;
            }
        ),
    ];

    public static TheoryData<int> FaultNumbers => [.. Enumerable.Range(0, Faults.Length)];

    [Fact]
    public void No_state_breaks_an_interlock()
    {
        var (states, _, broken) = SmallModel.Explore(Fault.None, Most);
        Assert.True(broken is null, broken);
        Assert.True(states > 500, $"only {states} states");
    }

    [Theory]
    [MemberData(nameof(FaultNumbers))]
    public void Every_planted_fault_is_caught(int number)
    {
        var (states, _, broken) = SmallModel.Explore(Faults[number], 20 * Most);
        Assert.True(broken is not null, $"{Faults[number].Name}: not caught in {states} states");
    }
}
