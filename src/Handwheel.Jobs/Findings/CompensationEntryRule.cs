using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class CompensationEntryRule(Facts facts) : Rule(facts)
{
    /// <summary>Shorter by less than this is rounding, nm.</summary>
    const double Rounding = 1_000;

    readonly IReadOnlyDictionary<int, long> given = SettingsOf.Control(facts.Setup).DiameterOffsets;
    bool on;
    bool due;

    public override RuleInfo Info { get; } =
        new("compensation-entry", Level.Check, "Cutter compensation cannot come on or go round here");

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Compensation) == Changes.None)
            return;
        var now = state.Compensation != CutterCompensation.Off;
        due = now && (!on || due);
        on = now;
        if (on)
            Facts.NotChecked.Say(
                "the path beside the programmed one under G41 and G42: moves are judged where they are programmed"
            );
    }

    public override bool Watches(in ControlState state) => on;

    /// <summary>The radius that the register asks for; null where its value is not given or it is zero (wear only).</summary>
    double? Radius(int d)
    {
        if (!given.TryGetValue(d, out var value) || value <= 0)
            return null;
        return Facts.Setup.Machine.Reads.DiameterRegisterIsRadius ? value : value / 2.0;
    }

    public override void Move(in ControlState state, in Leg leg)
    {
        if (!due || !leg.From.IsMachine || !leg.To.IsMachine || state.Plane != Plane.XY)
            return;
        var (dx, dy) = ((double)(leg.To.X - leg.From.X), (double)(leg.To.Y - leg.From.Y));
        var length = Math.Sqrt(dx * dx + dy * dy);
        if (length == 0)
            return;
        due = false;
        if (Radius(state.D) is not { } radius || length >= radius - Rounding || Again(state.Tool * 4L, state))
            return;
        Report(
            state.Tool * 4L,
            state,
            $"The move on which {Code(state)} comes on is {Facts.Figures.Say(length)} long; the radius in D{Figures.Whole(state.D)} is {Facts.Figures.Say(radius)}. The tool cannot reach its side of the path on it.",
            "Make the move longer than the radius of the tool."
        );
    }

    public override void ArcMove(in ControlState state, in Leg leg, in Arc arc)
    {
        if (state.Plane != Plane.XY || arc.Plane != Plane.XY || Radius(state.D) is not { } radius)
            return;
        if (due)
            EntryArc(state);
        var inside = (arc.Sweep > 0) == (state.Compensation == CutterCompensation.Left);
        if (!inside || arc.Radius >= radius - Rounding || Again(state.Tool * 4L + 2, state))
            return;
        Report(
            state.Tool * 4L + 2,
            state,
            $"An arc of radius {Facts.Figures.Say(arc.Radius)} with the tool inside it under {Code(state)}; the radius in D{Figures.Whole(state.D)} is {Facts.Figures.Say(radius)}. Either the tool does not fit, or this path is already the tool's centre and the register should hold only wear.",
            "See which of the two the program means, and what belongs in the register."
        );
    }

    void EntryArc(in ControlState state)
    {
        due = false;
        if (Again(state.Tool * 4L + 1, state))
            return;
        Report(
            state.Tool * 4L + 1,
            state,
            $"{Code(state)} comes on with an arc. Controls refuse this, or go somewhere else.",
            "Put G41 or G42 on a straight move before the arc."
        );
    }

    static string Code(in ControlState state) => state.Compensation == CutterCompensation.Left ? "G41" : "G42";
}
