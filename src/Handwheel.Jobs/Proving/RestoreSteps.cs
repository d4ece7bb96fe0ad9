namespace Handwheel.Jobs.Proving;

static class RestoreSteps
{
    public static IEnumerable<StepRule> For(ProveOutPlan plan) =>
        StepTable.Ended(
            Steps(plan),
            plan,
            Phase.Restore,
            "restore",
            Said.In("From here on the tool goes where the program says.")
        );

    static IEnumerable<StepRule> Steps(ProveOutPlan plan)
    {
        yield return new()
        {
            Id = "restore.reset",
            Phase = Phase.Restore,
            Card = Said.In("Restore"),
            Title = Said.In("Reset and rewound"),
            Where = Said.In("The control: reset, program at its first block"),
            Why = Said.In("A program that goes on from the middle goes on with the wrong registers."),
            Takes = Takes.Tick,
            After = ["air-cut.signed"],
        };
        var restored = plan.Registers.Select(Offset).ToList();
        foreach (var rule in restored)
            yield return rule;
        List<string> ready = [.. restored.Select(r => r.Id)];
        if (plan.Rules.SecondPersonAtRestore)
        {
            yield return new()
            {
                Id = "restore.witness",
                Phase = Phase.Restore,
                Card = Said.In("Restore"),
                Title = Said.In("Another person has read the registers and signs"),
                Where = Said.In("Work offset page of the control"),
                Why = Said.In("A raise that was never put back is the mistake that costs the spindle."),
                Takes = Takes.Signature,
                Signature = SignedAs.Witnessed,
                After = [.. ready],
                Follows = [.. ready],
                CanDeviate = false,
            };
            ready.Add("restore.witness");
        }
        yield return Switch("dry-run", Said.In("Dry run off"), Said.In("Feeds would be those of the air cut."), ready);
        yield return Switch(
            "single-block",
            Said.In("Single block on"),
            Said.In("One block at a time to each tool's approach."),
            ready
        );
        yield return Switch(
            "rapid",
            Said.In("Rapid override at its lowest"),
            Said.In("At full rapid there is no time to reach feed hold."),
            ready
        ) with
        {
            Takes = Takes.Percent,
            Expects = Expects.AtMost,
            AtMost = Math.Min(plan.Rules.FirstCutRapidPercent, ShopRulesForProving.MostFirstCutRapidPercent),
        };
        yield return Switch(
            "block-delete",
            Said.In("Block delete and optional stop as for cutting"),
            Said.In("The other position runs another program than the one checked."),
            ready
        );
        yield return Switch(
            "coolant",
            Said.In("Coolant as for cutting"),
            Said.In("A dry cut burns a tool that was proved."),
            ready
        );
        yield return Switch(
            "door",
            Said.In("Door closed"),
            Said.In("Chips and coolant, and what comes loose, stay inside."),
            ready
        );
    }

    static StepRule Offset(PlannedRegister planned) =>
        new()
        {
            Id = $"restore.offset.{planned.Register.Name}.{planned.Register.Axis}",
            Phase = Phase.Restore,
            Card = ReadySteps.CardOf(planned.Register),
            Title = planned.Register is { Axis: "z", Name: not ("common" or "shift") }
                ? Said.In($"Put {planned.Register} back and read it")
                : Said.In($"Read {planned.Register}"),
            Where =
                planned.Register.Name == "shift"
                    ? Said.In("Position page: shifts in force (G52, G92)")
                    : Said.In("Work offset page of the control"),
            Why = Said.In("It must be what it was before the raise, to the last digit."),
            Takes = Takes.Reading,
            Blind = true,
            Expects = Expects.Baseline,
            Register = planned.Register,
            After = ["restore.reset"],
            RestsOn = [Ground.Baseline(planned.Register)],
            CanDeviate = false,
        };

    static StepRule Switch(string key, string title, string why, IReadOnlyList<string> after) =>
        new()
        {
            Id = "restore.switch." + key,
            Phase = Phase.Restore,
            Card = Said.In("Switches for the first cut"),
            Title = title,
            Where = Said.In("Switches"),
            Why = why,
            Takes = Takes.Tick,
            After = after,
        };
}
