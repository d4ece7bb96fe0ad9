using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Material;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>Shows every move to the material as it is cut, and says what it met under the rule that it belongs to.</summary>
sealed class MaterialRules
{
    readonly Facts facts;
    readonly MaterialRun material;
    readonly RuleInfo rapid;
    readonly RuleInfo betweenHoles;
    readonly RuleInfo shank;
    readonly RuleInfo holder;
    readonly RuleInfo plunge;

    public MaterialRules(Facts facts, Rule[] rules)
    {
        this.facts = facts;
        material = new MaterialRun(facts);
        facts.CutStock = material;
        rapid = rules.OfType<RapidIntoStockRule>().Single().Info;
        betweenHoles = rules.OfType<LowBetweenHolesRule>().Single().Info;
        shank = rules.OfType<ShankContactRule>().Single().Info;
        holder = rules.OfType<HolderContactRule>().Single().Info;
        plunge = rules.OfType<PlungeRule>().Single().Info;
    }

    public bool Any => material.Any;

    public void Take(in ControlState state) => material.Take(state);

    public void Line(in ControlState state, in Leg leg) => Say(state, leg, material.Line(state, leg));

    public void Arc(in ControlState state, in Leg leg, in Arc arc) => Say(state, leg, material.Arc(state, leg, arc));

    public void Modal(in ControlState state, Changes changes)
    {
        if ((changes & Changes.Rotary) != Changes.None)
            material.StopFollowing(state, "a rotary axis moves");
    }

    public void ShiftSet(in ControlState state, ShiftKind kind, Axes axes)
    {
        if (kind == ShiftKind.Turned && axes != Axes.None)
            material.StopFollowing(state, "the coordinates are turned, scaled or mirrored");
    }

    public void Fault(in ControlState state, in Fault fault)
    {
        if (fault.Kind is FaultKind.CannotFollow or FaultKind.CannotRead)
            material.StopFollowing(state, "a block was not followed");
    }

    void Say(in ControlState state, in Leg leg, in MaterialContact found)
    {
        if (found.Rapid.Any)
            SayRapid(state, leg, found.Rapid);
        else if (found.Holder.Any)
            Add(
                holder,
                state.Tool + 50_000_000L,
                state,
                Said.Kept(
                    $"The holder of {facts.Name(state.Tool)} goes into the stock, {Depth(found.Holder.Depth)} deep: material is still there where the holder passes."
                ),
                "Let the tool stick out further, use a slimmer holder, or take the wall away first."
            );
        if (found.PastFlutes > 0)
            SayShank(state, found.PastFlutes);
        if (found.PlungeDepth > 0 && PlungeRule.HasNoCentre(facts.Tool!.Kind))
            Add(
                plunge,
                state.Tool,
                state,
                Said.Kept(
                    $"{facts.Name(state.Tool)} goes straight down into {Depth(found.PlungeDepth)} of material at its centre, where it has no cutting edge."
                ),
                "Drill or open the place first, or ramp in."
            );
    }

    void SayRapid(in ControlState state, in Leg leg, in Met met)
    {
        var across = leg.Part == CyclePart.Across;
        Add(
            across ? betweenHoles : rapid,
            state.Tool + (across ? 50_000_000L : 0),
            state,
            across
                ? Said.Kept(
                    $"On the way to the next hole {facts.Name(state.Tool)} goes through stock that is still there: "
                        + $"{Depth(met.Depth)} of material over the underside of the tool, as cut so far."
                )
                : Said.Kept(
                    $"A rapid takes {facts.Name(state.Tool)} through stock that is still there: "
                        + $"{Depth(met.Depth)} of material over the underside of the tool, as cut so far."
                ),
            across
                ? "Write G98 with an initial level above what stands between the holes, or raise R."
                : "Go over the material, or feed through it. Where a former operation has already taken it away, describe the stock as it is."
        );
    }

    void SayShank(in ControlState state, double past)
    {
        var flutes = facts.Tool!.FluteLength!.Value.Nanometres;
        Add(
            shank,
            state.Tool,
            state,
            Said.Kept(
                $"{facts.Name(state.Tool)} meets material up to {Depth(flutes + past)} above its tip; its flutes are {Depth(flutes)} long. The shank cannot cut."
            ),
            "Cut in steps that the flutes can take, or use a longer tool."
        );
    }

    string Depth(double nm) => facts.Figures.Say(nm);

    void Add(RuleInfo rule, long cause, in ControlState state, string message, string remedy)
    {
        if (!facts.Book.Again(rule, cause, state.File, state.Line))
            facts.Book.Add(rule, cause, Where.Of(state), message, remedy);
    }
}
