using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class CompensationEntryRule(Facts facts) : Rule(facts)
{
    const string Between = "Put G40 before it and G41 or G42 after it.";

    bool saidFault;

    public override RuleInfo Info { get; } =
        new("compensation-entry", Level.Check, "Cutter compensation cannot come on or go round here");

    public override Changes Hears => Changes.Compensation;

    public override void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Compensation) == Changes.None || state.Compensation == CutterCompensation.Off)
            return;
        if (!state.CutterRadiusKnown)
            Facts.NotChecked.Say(
                $"the path beside the programmed one under {Code(state)}: D{Figures.Whole(state.D)} has no value; moves are judged where they are programmed"
            );
        else if (state.CutterRadius != 0)
            Facts.NotChecked.Say(
                "whether the tool under G41 and G42 fits between moves that do not follow each other: only neighbours are looked at"
            );
    }

    public override void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind != FaultKind.CompensationEntry)
            return;
        var line = Figures.Whole(state.Line);
        if (fault.Cause == CompensationCause.LooksOver)
        {
            Facts.NotChecked.Say(
                $"the inside corner at line {line} under {Code(state)}: {Figures.Whole((long)fault.First)} blocks without X and Y come before it; a control that looks over fewer cuts into the corner"
            );
            return;
        }
        if (!saidFault)
            Facts.NotChecked.Say(
                $"the path under {Code(state)} from line {line} on: something is wrong with it there, and the control stops or goes elsewhere than was worked out"
            );
        saidFault = true;
        var cause = Book.Cause(fault.Cause) * 100_000 + state.Tool;
        if (Again(cause, state))
            return;
        var (message, remedy) = Words(state, fault);
        Report(cause, state, message, remedy);
    }

    (string Message, string Remedy) Words(in ControlState state, in Fault fault)
    {
        var code = Code(state);
        var d = "D" + Figures.Whole(state.D);
        var (first, second) = (Facts.Figures.Say(fault.First), Facts.Figures.Say(fault.Second));
        return fault.Cause switch
        {
            CompensationCause.EntryShort => (
                Said.Kept(
                    $"The move on which {code} comes on is {first} long; the radius in {d} is {second}. The tool cannot reach its side of the path on it."
                ),
                "Make the move longer than the radius of the tool."
            ),
            CompensationCause.EntryArc => (
                Said.Kept($"{code} comes on with an arc. Controls refuse this, or go somewhere else."),
                "Put G41 or G42 on a straight move before the arc."
            ),
            CompensationCause.ExitArc => (
                Said.Kept("G40 takes effect on an arc. Controls refuse this, or go somewhere else."),
                "Put G40 on a straight move after the arc."
            ),
            CompensationCause.ArcSmall => (
                Said.Kept(
                    $"An arc of radius {first} with the tool inside it under {code}; the radius in {d} is {second}. Either the tool does not fit, or this path is already the tool's centre and the register should hold only wear."
                ),
                "See which of the two the program means, and what belongs in the register."
            ),
            CompensationCause.Corner => (
                Corner(state, fault),
                "Use a smaller tool, or leave the corner or the step out of this contour."
            ),
            CompensationCause.CornerRefused => (
                Said.Kept(
                    $"An inside corner under {code}: this control takes none (the machine's description says so)."
                ),
                "Put an arc larger than the radius of the tool into the corner."
            ),
            CompensationCause.OtherRegister => (
                Said.Kept(
                    $"Another radius comes into force while {code} is on: {first} before, {second} with {d}. Controls part over where the tool goes over to it."
                ),
                Between
            ),
            CompensationCause.OtherSide => (
                Said.Kept($"{code} comes on while the other one is on: the tool crosses the path."),
                Between
            ),
            CompensationCause.Shift => (
                Said.Kept(
                    $"G92 in X or Y while {code} is on. The programmed place was taken for it; a control may take the place where the tool's centre stands."
                ),
                Between
            ),
            CompensationCause.NoMove => (
                Said.Kept(
                    $"{code} is on, and no move in X and Y follows for very many blocks: how the last one ends was not worked out."
                ),
                "Put G40 before them."
            ),
            _ => (
                Said.Kept(
                    $"A reference return, a move in machine coordinates or a canned cycle in X or Y while {code} is on. Controls refuse this, or go there without compensation and come on again afterwards."
                ),
                Between
            ),
        };
    }

    string Corner(in ControlState state, in Fault fault)
    {
        var radius = Facts.Figures.Say(Math.Abs(state.CutterRadius));
        var under = Code(state);
        var d = "D" + Figures.Whole(state.D);
        return fault.First > 0
            ? Said.Kept(
                $"The tool, radius {radius} in {d}, does not fit between this move and the one before it under {under}: the inside corner takes {Facts.Figures.Say(fault.First)} of each, and one of them has {Facts.Figures.Say(Math.Max(0, fault.Second))}. The control stops, or the tool cuts into the part."
            )
            : Said.Kept(
                $"The tool, radius {radius} in {d}, does not fit between this move and the one before it under {under}: its ways beside them do not cross. The control stops, or the tool cuts into the part."
            );
    }

    static string Code(in ControlState state) =>
        state.Compensation switch
        {
            CutterCompensation.Left => "G41",
            CutterCompensation.Right => "G42",
            _ => Said.Kept("G41 or G42"),
        };
}
