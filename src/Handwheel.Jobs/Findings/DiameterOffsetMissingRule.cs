using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class DiameterOffsetMissingRule(Facts facts) : Rule(facts)
{
    readonly IReadOnlyDictionary<int, long> given = SettingsOf.Control(facts.Setup).DiameterOffsets;
    readonly HashSet<int> written = [];

    public override RuleInfo Info { get; } =
        new("diameter-offset-missing", Level.Stop, "Cutter compensation without a value");

    public override void RegisterWritten(in ControlState state, in RegisterWrite write)
    {
        if (write is { Kind: RegisterKind.Diameter, Incremental: false })
            written.Add(write.Number);
    }

    public override Changes Hears => Changes.Compensation;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Compensation) == Changes.None || state.Compensation == CutterCompensation.Off)
            return;
        if (given.ContainsKey(state.D) || written.Contains(state.D) || IsAnothers(state) || Again(state.D, state))
            return;
        var code = state.Compensation == CutterCompensation.Left ? "G41" : "G42";
        Report(
            state.D,
            state,
            state.D == 0
                ? Said.Kept($"{code} with no D: nothing says by how much the tool goes beside the path.")
                : Said.Kept(
                    $"{code} with D{Figures.Whole(state.D)}, and the setup gives no value for it: where the tool goes is not known."
                ),
            state.D == 0
                ? "Write the tool's own D beside it."
                : "Give the register's value in the setup, 0 where the path is already the tool's centre."
        );
    }

    /// <summary>A D that is not this tool's own is another finding.</summary>
    bool IsAnothers(in ControlState state) =>
        state.D != 0
        && Facts.Tool is { DiameterOffset: { } own } tool
        && state.D != own
        && !tool.AlsoDiameterOffsets.Contains(state.D);
}
