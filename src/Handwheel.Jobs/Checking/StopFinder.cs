using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>A block at which the setter pauses, as it was seen while the program ran; readings follow when the raise is known.</summary>
sealed class StopDraft
{
    public required ControlState State { get; init; }
    public Where At => Where.Of(State);
    public bool OwnKnown { get; init; }
    public long Own { get; init; }
    public double? Radius { get; init; }
    public Place From { get; init; }
    public bool FromLifted { get; init; }
    public Place To { get; set; }
    public bool ToLifted { get; set; }

    /// <summary>The tool's centre is beside the programmed place.</summary>
    public bool Beside { get; set; }
    public string Kind { get; set; } = "";
}

/// <summary>
/// Finds the stops of each use of a tool: <c>position</c>, <c>approach</c> and <c>entry</c>. A block may be two kinds; it is
/// then one stop, of the first kind that applies in the order approach, entry, position.
/// </summary>
sealed class StopFinder(Facts facts)
{
    [Flags]
    enum Kinds
    {
        None = 0,
        Position = 1,
        Approach = 2,
        Entry = 4,
    }

    /// <summary>More are no list that anybody goes through; the rest is counted.</summary>
    const int StopsMost = 2_000;

    const Kinds All = Kinds.Position | Kinds.Approach | Kinds.Entry;

    readonly List<StopDraft> drafts = [];
    Kinds due = facts.Table.StockTop is null ? All & ~Kinds.Entry : All;
    Kinds seen;
    StopDraft? draft;
    int beyond;
    Place blockFrom;
    bool blockFromLifted;
    bool inBlock;
    bool holeDone;
    bool holeStarted;
    WorkOffsetName? workOffset;

    public IReadOnlyList<StopDraft> Drafts => drafts;

    /// <summary>Stops that are not in the list because it is full.</summary>
    public int Beyond => beyond;

    /// <summary>Legs must be shown to this finder: a stop is still due, or a work offset may have changed.</summary>
    public bool Due => due != Kinds.None;

    public void ToolChange()
    {
        due = facts.Table.StockTop is null ? All & ~Kinds.Entry : All;
        workOffset = null;
        inBlock = false;
        draft = null;
        seen = Kinds.None;
    }

    /// <summary>After another work offset under the same tool, position and approach are given again.</summary>
    public void WorkOffset(WorkOffsetName name)
    {
        if (workOffset is { } before && before != name)
            due |= Kinds.Position | Kinds.Approach;
    }

    public void Leg(in ControlState state, in Leg leg)
    {
        if (!inBlock)
        {
            inBlock = true;
            holeDone = holeStarted = false;
            blockFrom = leg.From;
            blockFromLifted = leg.FromLifted;
        }
        if (leg.Kind is not (LegKind.Rapid or LegKind.Feed))
            return;
        OtherOffset(state.WorkOffset);
        seen |= KindsOf(state, leg) & due;
        if (draft is null && seen != Kinds.None)
            draft = Begin(state);
        if (leg.Part is CyclePart.Out or CyclePart.ToInitial && holeStarted)
            holeDone = true;
        holeStarted |= leg.Part == CyclePart.Down;
        if (draft is null || holeDone)
            return;
        draft.To = leg.To;
        draft.ToLifted = leg.Lifted;
        draft.Beside = leg.Beside;
    }

    void OtherOffset(WorkOffsetName name)
    {
        if (workOffset == name)
            return;
        if (workOffset is not null)
            due |= Kinds.Position | Kinds.Approach;
        workOffset = name;
    }

    Kinds KindsOf(in ControlState state, in Leg leg)
    {
        var kinds = Kinds.None;
        if ((leg.Commanded & (Axes.X | Axes.Y)) != Axes.None)
            kinds |= Kinds.Position;
        if ((leg.Commanded & Axes.Z) != Axes.None && state.LengthMode != LengthMode.Off)
            kinds |= Kinds.Approach;
        if (leg.Kind == LegKind.Feed && (due & Kinds.Entry) != Kinds.None && IsEntry(state, leg.To))
            kinds |= Kinds.Entry;
        return kinds;
    }

    bool IsEntry(in ControlState state, in Place to) =>
        facts.Table.StockTop is { } top
        && to.RestZ == state.RestZ
        && (state.RestZ == 0 || facts.Table.KnowsZ(state.WorkOffset))
        && to.Z - state.LengthZ < top;

    StopDraft Begin(in ControlState state) =>
        new()
        {
            State = state,
            OwnKnown = facts.OwnKnown,
            Own = facts.Own,
            Radius = facts.Tool?.Diameter?.Nanometres / 2.0,
            From = blockFrom,
            FromLifted = blockFromLifted,
        };

    public void BlockEnd()
    {
        if (!inBlock)
            return;
        inBlock = false;
        if (draft is null)
            return;
        draft.Kind =
            (seen & Kinds.Approach) != Kinds.None ? "approach"
            : (seen & Kinds.Entry) != Kinds.None ? "entry"
            : "position";
        if (drafts.Count < StopsMost)
            drafts.Add(draft);
        else
            beyond++;
        due &= ~seen;
        draft = null;
        seen = Kinds.None;
    }
}
