using Handwheel.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>Faults that the proofs must notice, each planted in the rules as they are.</summary>
static class PlantedFaults
{
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

    public static readonly IReadOnlyList<Fault> All =
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
}

/// <summary>A fault planted in the rules: reasons that are not asked, or an effect that is not as it should be.</summary>
sealed record Fault(
    string Name,
    Func<Act, IEnumerable<string>, IEnumerable<string>> Reasons,
    Action<Course, Course, Entry> Effect
)
{
    public static Fault None { get; } = new("none", (_, reasons) => reasons, (_, _, _) => { });

    public static Fault NotAsked(string name, Func<Act, bool> when, params string[] words) =>
        None with
        {
            Name = name,
            Reasons = (act, reasons) =>
                when(act) ? reasons.Where(r => !words.Any(w => r.Contains(w, StringComparison.Ordinal))) : reasons,
        };

    public static Fault Wrong(string name, Action<Course, Course, Entry> effect) =>
        None with
        {
            Name = name,
            Effect = effect,
        };
}
