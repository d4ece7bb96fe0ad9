using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class LengthOffsetUnknownRule(Facts facts) : Rule(facts)
{
    readonly IReadOnlyDictionary<int, long> given = SettingsOf.Control(facts.Setup).LengthOffsets;
    readonly HashSet<int> written = [];

    public override RuleInfo Info { get; } =
        new("length-offset-unknown", Level.Stop, "A length offset that has no value");

    public override void RegisterWritten(in ControlState state, in RegisterWrite write)
    {
        if (write is { Kind: RegisterKind.Length, Incremental: false })
            written.Add(write.Number);
    }

    public override Changes Hears => Changes.Length;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Length) == Changes.None || state.LengthMode == LengthMode.Off || !state.LengthCommanded)
            return;
        if (state.H == 0 || given.ContainsKey(state.H) || written.Contains(state.H) || Again(state.H, state))
            return;
        Report(
            state.H,
            state,
            Said.Kept(
                $"H{Figures.Whole(state.H)} is called, and the setup gives no value for it: where the tip goes is not known."
            ),
            "Measure the tool and give its length in the setup."
        );
    }
}
