using Handwheel.Jobs.Setups;

namespace Handwheel.Jobs.Checking;

/// <summary>What no check could look at because the setup does not describe it, said for the tools, the stock and the machine that it would concern.</summary>
static class NotLookedAt
{
    public static void Say(Facts facts, Totals totals)
    {
        foreach (var number in totals.Tools.Where(t => t.Uses > 0).Select(t => t.Tool))
            if (facts.Listed(number) is { } tool)
                OfTool(facts.NotChecked, tool);
        if (facts.Setup.Stock.Count == 0)
            facts.NotChecked.Say("rapids through stock, and what is left of it after each cut: no stock is described");
        OfMachine(facts.NotChecked, facts.Setup.Machine);
    }

    /// <summary>What a list leaves off because it is full.</summary>
    public static void SayBeyond(NotCheckedList list, int stops, int tools)
    {
        if (stops > 0)
            list.Say($"stops: {Figures.Whole(stops)} more than the list holds");
        if (tools > 0)
            list.Say($"tools: {Figures.Whole(tools)} more than the list holds");
    }

    static void OfTool(NotCheckedList list, Tool tool)
    {
        var name = "T" + Figures.Whole(tool.Number);
        if (tool.Holder.Count == 0)
            list.Say($"holder contact: {name} has no holder");
        else if (tool.StickoutJudged is null)
            list.Say($"holder contact: {name} has a holder but no stick-out");
        if (tool.Kind == "probe")
            return;
        if (tool.FluteLength is null)
            list.Say($"shank contact: {name} has no flute length");
        if (tool.Kind.Length == 0)
            list.Say($"plunges, and the shape under the tool: {name} has no kind and counts as flat");
        else if (tool is { Kind: "bull end mill", CornerRadius: null })
            list.Say($"the shape under the tool: {name} has no corner radius and counts as square");
    }

    static void OfMachine(NotCheckedList list, Machine machine)
    {
        if (machine.Rapid is null)
            list.Say("run time: the machine has no rapid rates");
        else if (machine.Acceleration is null)
            list.Say("run time: the machine has no accelerations, so every move is timed at its full rate");
        if (machine is { RapidPath: RapidPath.NotKnown, Rapid: not null })
            list.Say(
                "which way rapids go: the machine does not say; both are looked at, distances count straight lines"
            );
    }
}
