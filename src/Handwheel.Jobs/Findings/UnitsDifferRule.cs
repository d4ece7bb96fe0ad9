using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

sealed class UnitsDifferRule(Facts facts) : Rule(facts)
{
    Units? first;
    Units last;
    ControlState changedAt;
    bool pending;

    public override RuleInfo Info { get; } = new("units-differ", Level.Stop, "Units change between motions");

    public override bool Watches(in ControlState state) => first is null || pending;

    public override bool SeenEnough => first is not null && !pending;

    public override Changes Hears => Changes.Units;

    public override void Modal(in ControlState state, Changes changes)
    {
        if (first is null || (changes & Changes.Units) == Changes.None)
            return;
        pending = state.Units != last;
        changedAt = state;
    }

    public override void Move(in ControlState state, in Leg leg)
    {
        if (leg.Kind == LegKind.ReturnEnd)
            return;
        first ??= state.Units;
        if (!pending)
        {
            last = state.Units;
            return;
        }
        pending = false;
        var (before, after) = (last.Symbol(), state.Units.Symbol());
        last = state.Units;
        Report(
            0,
            changedAt,
            Said.Kept($"Lengths were in {before} and are in {after} from here on."),
            "Write the whole program in one unit: a number left over from the other one is 25.4 times too long or too short."
        );
    }
}
