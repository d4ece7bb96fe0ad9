using System.Globalization;

namespace Handwheel.Jobs.Proving;

static class AirCutSteps
{
    /// <summary>Where a hand or a gauge block goes under the tool.</summary>
    public static string HandUnderTool =>
        Said.In(
            "A hand or a gauge block under the tool only with the axes on hold, the spindle seen standing still and the control out of automatic; out again before the next start."
        );

    public static IEnumerable<StepRule> For(ProveOutPlan plan) =>
        StepTable.Ended(
            plan.AirCut.Possible ? InTheAir(plan) : TheOtherWay(plan),
            plan,
            Phase.AirCut,
            "air-cut",
            Said.In("The real run begins with what was seen here.")
        );

    static IEnumerable<StepRule> InTheAir(ProveOutPlan plan)
    {
        var raised = plan
            .Registers.Where(r => r.Register is { Axis: "z", Name: not ("common" or "shift") })
            .Select(Raised)
            .ToList();
        foreach (var rule in raised)
            yield return rule;
        var cards = plan.Tools.SelectMany(t => Card(t, ["ready.signed", .. raised.Select(r => r.Id)])).ToList();
        foreach (var rule in cards)
            yield return rule;
        yield return new()
        {
            Id = "air-cut.ran",
            Phase = Phase.AirCut,
            Card = Said.In("Run"),
            Title = Said.In("The program ran to its end in the air"),
            Where = Said.In("The whole run, thumb on feed hold"),
            Why = Said.In("A move that only comes late in the program has been seen as well."),
            Takes = Takes.TickWithWords,
            After = [.. raised.Concat(cards).Select(c => c.Id)],
            Follows = [.. cards.Select(c => c.Id)],
            Notes = ToWatch(plan),
            Cautions =
            [
                Said.In(
                    "Guards closed. Feed hold is ignored in tapping and tool changes: keep the emergency stop in reach."
                ),
            ],
        };
    }

    static StepRule Raised(PlannedRegister planned) =>
        new()
        {
            Id = $"air-cut.raised.{planned.Register.Name}.z",
            Phase = Phase.AirCut,
            Card = Said.In("Raise"),
            Title = Said.In($"Raise {planned.Register} and read it"),
            Where = Said.In("Work offset page of the control: change it by the raise, then read what it shows"),
            Why = Said.In(
                "A raise with the wrong sign, typed twice or into another register sends the tool into the part."
            ),
            Takes = Takes.Reading,
            Blind = true,
            Expects = Expects.Raised,
            Register = planned.Register,
            After = ["ready.signed"],
            RestsOn = [Ground.Raise, Ground.Baseline(planned.Register)],
            CanDeviate = false,
        };

    static IEnumerable<StepRule> Card(PlannedTool tool, IReadOnlyList<string> after)
    {
        var card = new Cards(tool, Phase.AirCut, "air-cut", after);
        yield return card.Step(
            "position",
            Takes.AgreesOrDiffers,
            Said.In("Is the spindle over the right place?"),
            tool.Position is { } p ? At(Said.In("The first move in X and Y"), p) : Said.In("The first move in X and Y"),
            Said.In("A wrong work offset or a wrong X, Y shows here, high above everything."),
            [.. card.Baselines("x"), .. card.Baselines("y"), Ground.Holding]
        );
        yield return card.Step(
            "approach",
            Takes.AgreesOrDiffers,
            Said.In("Held about an inch (25 mm) before its end: is there at least as much air as distance-to-go says?"),
            tool.Approach is { } a
                ? At(Said.In("Distance-to-go, and the air under the tip"), a)
                : Said.In("Distance-to-go, and the air under the tip"),
            Said.In("Less air than distance-to-go is a collision that has not happened yet."),
            [Ground.Tool(tool.Key), .. card.Baselines("z"), Ground.Raise, Ground.Holding]
        ) with
        {
            Notes = [.. tool.Again.Concat(tool.Watch ?? []).Select(Said.Again)],
        };
        yield return card.Step(
            "machine-z",
            Takes.Reading,
            Said.In("Machine Z at the end of the approach"),
            Said.In("Position page, machine coordinates"),
            Said.In("Register, raise and H are right together in this one number, or one of them is wrong."),
            [Ground.Tool(tool.Key), .. card.Baselines("z"), Ground.Raise]
        ) with
        {
            Blind = true,
            Expects = Expects.MachineZRaised,
        };
        yield return card.Step(
            "gauge",
            Takes.AgreesOrDiffers,
            Said.In("Gauge block between the tip and what is under it"),
            tool.Approach?.Below is { } below ? Said.In($"On the {below}, under the tip") : Said.In("Under the tip"),
            Said.In("The block proves that H is this tool's true length: the display cannot."),
            [Ground.Tool(tool.Key), .. card.Baselines("z"), Ground.Raise, Ground.Holding]
        ) with
        {
            Cautions = [HandUnderTool],
        };
    }

    /// <summary>The places that matter most in a run, where a person should look; distances are without the raise.</summary>
    public static IReadOnlyList<string> ToWatch(ProveOutPlan plan) =>
        [.. plan.Tools.SelectMany(t => t.Watch ?? []).Select(Said.Again)];

    public static string At(string what, PlannedStop stop) => Said.In($"{what}: line {stop.Line}, {stop.Block}");

    static IEnumerable<StepRule> TheOtherWay(ProveOutPlan plan)
    {
        yield return new()
        {
            Id = "air-cut.other-way",
            Phase = Phase.AirCut,
            Card = Said.In("No air cut"),
            Title = Said.In("No air cut is possible: a supervisor signs the other way"),
            Where = Said.In("Holding and stock off the table; the handwheel through each approach"),
            Why = plan.AirCut.Why is { } why
                ? Said.Again(why)
                : Said.In("There is no raise that clears everything inside the travel."),
            Takes = Takes.OtherWay,
            After = ["ready.signed"],
            RestsOn = [Ground.Program, Ground.Holding],
            CanDeviate = false,
        };
        foreach (var tool in plan.Tools)
        {
            var card = new Cards(tool, Phase.AirCut, "air-cut", ["air-cut.other-way"]);
            yield return card.Step(
                "handwheel",
                Takes.AgreesOrDiffers,
                Said.In("Step through the approach under the handwheel: right place, right height"),
                tool.Approach is { } a ? At(Said.In("The approach"), a) : Said.In("The approach"),
                Said.In("With the table empty a wrong length or offset touches nothing."),
                [Ground.Tool(tool.Key), .. card.Baselines("x"), .. card.Baselines("y"), .. card.Baselines("z")]
            ) with
            {
                Cautions =
                [
                    Said.In(
                        "Holding and stock are off the table. Lowest rapid, one block at a time, thumb on feed hold."
                    ),
                ],
                Notes = [.. tool.Again.Select(Said.Again)],
            };
        }
    }
}

/// <summary>Steps of one tool's card.</summary>
sealed class Cards(PlannedTool tool, Phase phase, string prefix, IReadOnlyList<string> after)
{
    public StepRule Step(
        string key,
        Takes takes,
        string title,
        string where,
        string why,
        IReadOnlyList<string> restsOn
    ) =>
        new()
        {
            Id = $"{prefix}.tool.{tool.Key}.{key}",
            Phase = phase,
            Card = "T" + tool.Key,
            Title = title,
            Where = where,
            Why = why,
            Takes = takes,
            Tool = tool,
            After = after,
            RestsOn = [Ground.ToolMotion(tool.Key), .. restsOn],
        };

    /// <summary>The registers of one axis that place this tool.</summary>
    public IEnumerable<string> Baselines(string axis) =>
        tool.WorkOffsets.Concat(["common", "shift"]).Select(name => Ground.Baseline(new(name, axis)));
}
