using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class WorkOffsetNotSetRule(Facts facts) : Rule(facts)
{
    readonly Dictionary<WorkOffsetName, Axes> written = [];
    WorkOffsetName? asked;
    bool isMissing;

    public override RuleInfo Info { get; } = new("work-offset-not-set", Level.Stop, "A work offset that has no value");

    public override void RegisterWritten(in ControlState state, in RegisterWrite write)
    {
        asked = null;
        if (write is { Kind: RegisterKind.WorkOffset, Incremental: false })
            written[write.WorkOffset] = written.GetValueOrDefault(write.WorkOffset) | write.Axes;
    }

    public override Changes Hears => Changes.WorkOffset;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.WorkOffset) != Changes.None && Missing(state.WorkOffset) == (Axes.X | Axes.Y | Axes.Z))
            Say(state, Axes.X | Axes.Y | Axes.Z);
    }

    /// <summary>Asked again with every feed, so the answer is kept for the work offset in force.</summary>
    public override bool Watches(in ControlState state)
    {
        if (asked != state.WorkOffset)
            (asked, isMissing) = (state.WorkOffset, Missing(state.WorkOffset) != Axes.None);
        return isMissing;
    }

    public override void Move(in ControlState state, in Leg leg)
    {
        var missing = Missing(state.WorkOffset) & leg.Commanded;
        if (missing != Axes.None && Facts.IsWork(leg.Kind))
            Say(state, missing);
    }

    Axes Missing(WorkOffsetName name)
    {
        Facts.Setup.WorkOffsets.TryGetValue(name, out var offset);
        var missing =
            (offset.X is null ? Axes.X : Axes.None)
            | (offset.Y is null ? Axes.Y : Axes.None)
            | (offset.Z is null ? Axes.Z : Axes.None);
        return missing & ~written.GetValueOrDefault(name);
    }

    void Say(in ControlState state, Axes missing)
    {
        if (Again(state.WorkOffset.Number, state))
            return;
        var axes = missing == (Axes.X | Axes.Y | Axes.Z) ? "" : Said.Kept($" in {missing}");
        Report(
            state.WorkOffset.Number,
            state,
            Said.Kept(
                $"{state.WorkOffset} is used, and the setup gives no value for it{axes}. The control will use whatever the last job left there."
            ),
            $"Set {state.WorkOffset} and give its values in the setup, or correct the program."
        );
    }
}
