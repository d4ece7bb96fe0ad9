using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Checking.Clearance;
using Handwheel.Nc;

namespace Handwheel.Jobs.Findings;

/// <summary>Shows every move to the sweep along the holding, and says its contacts under the rule for rapids or the one for feeds.</summary>
sealed class HoldingRules(Facts facts, RapidIntoHoldingRule rapid, FeedIntoHoldingRule feed)
{
    readonly HoldingSweep sweep = new(facts);

    public bool Any => sweep.Any;

    public void Take(in ControlState state) => sweep.Take(state);

    public void Line(in ControlState state, in Leg leg)
    {
        if (sweep.Line(state, leg))
            Say(state, leg);
    }

    public void Arc(in ControlState state, in Leg leg, in Arc arc)
    {
        if (sweep.Arc(state, leg, arc))
            Say(state, leg);
    }

    void Say(in ControlState state, in Leg leg)
    {
        var rule = Facts.IsFeed(leg.Kind) ? feed.Info : rapid.Info;
        foreach (var found in sweep.Contacts)
        {
            var cause = found.Holding * 100_000L + state.Tool;
            if (facts.Book.Again(rule, cause, state.Line))
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

    string Message(in ControlState state, in Leg leg, HoldingContact found)
    {
        var figures = facts.Figures;
        var name = facts.Table.Holding[found.Holding].Name;
        var way = found.Way switch
        {
            Way.Dogleg => " when each axis moves at its own rate",
            Way.EndOnly => " at the end of the move",
            _ => "",
        };
        var what = Facts.IsFeed(leg.Kind) ? "A feed move" : "A rapid";
        return $"{what} takes {facts.Name(state.Tool)}, ⌀ {figures.Say(facts.Tool!.Diameter!.Value.Nanometres)}, through {name}{way}: "
            + $"up to {figures.Say(found.Contact.Inside)} inside its outline, with the tip down to {figures.Say(found.Contact.Below)} below its top.";
    }
}
