using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>Shows every move to the sweep along the holding, and says its contacts under the rule that they belong to.</summary>
sealed class HoldingRules(
    Facts facts,
    RapidIntoHoldingRule rapid,
    FeedIntoHoldingRule feed,
    LowBetweenHolesRule betweenHoles,
    HolderContactRule holder
)
{
    readonly HoldingSweep sweep = new(facts);

    public bool Any => sweep.Any;

    public IEnumerable<(int Holding, Pass Pass)> Nearest => sweep.Nearest;

    public void Take(in ControlState state) => sweep.Take(state);

    public void Line(in ControlState state, in Leg leg)
    {
        if (sweep.Line(state, leg))
            Say(state, leg);
    }

    /// <summary>Nothing stands near enough to matter to any move inside a box.</summary>
    public bool IsFree(in Place low, in Place high) => sweep.IsFree(low, high);

    public void Arc(in ControlState state, in Leg leg, in Arc arc)
    {
        if (sweep.Arc(state, leg, arc))
            Say(state, leg);
    }

    void Say(in ControlState state, in Leg leg)
    {
        foreach (var found in sweep.Contacts)
        {
            // where the tool itself is in the way of the same thing, that is said and the holder is not
            if (found.Part > 0 && sweep.Contacts.Any(c => c.Part == 0 && c.Holding == found.Holding))
                continue;
            var rule = RuleFor(leg, found);
            var cause = found.Holding * 100_000L + state.Tool;
            if (facts.Book.Again(rule, cause, state.File, state.Line))
                continue;
            facts.Book.Add(
                rule,
                cause,
                Where.Of(state),
                Message(state, leg, found),
                "Move the clamp or the path, or go over it. Look at this place with the machine standing still before the air cut: the raise hides it."
            );
        }
    }

    RuleInfo RuleFor(in Leg leg, HoldingContact found) =>
        found.Part > 0 ? holder.Info
        : leg.Part == CyclePart.Across ? betweenHoles.Info
        : Facts.IsFeed(leg.Kind) ? feed.Info
        : rapid.Info;

    string Message(in ControlState state, in Leg leg, HoldingContact found)
    {
        var figures = facts.Figures;
        var name = facts.Table.Holding[found.Holding].Name;
        var way = found.Way switch
        {
            Way.Dogleg => Said.Kept(" when each axis moves at its own rate"),
            Way.EndOnly => Said.Kept(" at the end of the move"),
            _ => "",
        };
        var isFeed = Facts.IsFeed(leg.Kind);
        if (found.Part > 0)
            return isFeed
                ? Said.Kept(
                    $"A feed move takes the holder of {facts.Name(state.Tool)} through {name}{way}: up to {figures.Say(found.Contact.Inside)} inside its outline, {figures.Say(found.Contact.Below)} below its top."
                )
                : Said.Kept(
                    $"A rapid takes the holder of {facts.Name(state.Tool)} through {name}{way}: up to {figures.Say(found.Contact.Inside)} inside its outline, {figures.Say(found.Contact.Below)} below its top."
                );
        var diameter = figures.Say(facts.Tool!.Diameter!.Value.Nanometres);
        return isFeed
            ? Said.Kept(
                $"A feed move takes {facts.Name(state.Tool)}, ⌀ {diameter}, through {name}{way}: up to {figures.Say(found.Contact.Inside)} inside its outline, with the tip down to {figures.Say(found.Contact.Below)} below its top."
            )
            : Said.Kept(
                $"A rapid takes {facts.Name(state.Tool)}, ⌀ {diameter}, through {name}{way}: up to {figures.Say(found.Contact.Inside)} inside its outline, with the tip down to {figures.Say(found.Contact.Below)} below its top."
            );
    }
}
