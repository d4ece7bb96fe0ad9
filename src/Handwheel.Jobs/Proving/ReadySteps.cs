using System.Globalization;
using Handwheel.Jobs.Checking;

namespace Handwheel.Jobs.Proving;

static class ReadySteps
{
    public static IEnumerable<StepRule> For(ProveOutPlan plan) =>
        StepTable.Ended(
            ReadyOrder.With(plan.Rules.ReadyFirst).SelectMany(group => Group(plan, group)),
            plan,
            Phase.Ready,
            "ready",
            Said.In("Nothing moves on a guess: what follows rests on every line above.")
        );

    static IEnumerable<StepRule> Group(ProveOutPlan plan, string group) =>
        group switch
        {
            ReadyOrder.Check => [.. Findings(plan), .. ProvedBefore(plan)],
            ReadyOrder.Program =>
            [
                .. plan.Subject.Programs.Select(Program),
                .. (plan.Subject.Assumed ?? []).Select(Parameter),
            ],
            ReadyOrder.Table => [Table(plan)],
            ReadyOrder.Tools => plan.Tools.SelectMany(t => Tool(plan, t)),
            ReadyOrder.Offsets => plan.Registers.Select(Offset),
            _ => Machine(plan),
        };

    /// <summary>Set up again where the machine is not as it was: what that changes is looked at before anything moves.</summary>
    static IEnumerable<StepRule> ProvedBefore(ProveOutPlan plan)
    {
        if (plan.Subject.ProvedBefore is not { Differences: { Count: > 0 } differences } before)
            yield break;
        yield return new()
        {
            Id = "ready.proved-before",
            Phase = Phase.Ready,
            Card = Said.In("Set up again"),
            Title =
                before.Machine == plan.MachineName
                    ? Said.In($"Proved here when {plan.MachineName} was described otherwise: look at what has changed")
                    : Said.In($"Proved on {before.Machine}: look at what {plan.MachineName} has otherwise"),
            Where = Said.In("The list below, and the machine"),
            Why = Said.In("What was proved there was proved with that machine's travel, positions and habits."),
            Takes = Takes.Seen,
            Notes = [.. differences.Select(d => d.ToString())],
        };
    }

    static IEnumerable<StepRule> Findings(ProveOutPlan plan)
    {
        var stops = plan.Findings.Where(f => f.Level == Level.Stop).ToList();
        yield return new()
        {
            Id = "ready.check",
            Phase = Phase.Ready,
            Card = Said.In("Check"),
            Title = Said.In("The check has nothing open at level stop"),
            Where = Said.In("Findings of the program page"),
            Why = Said.In("A stop is a collision, a wrong register or a program that could not be followed."),
            Takes = Takes.Nothing,
            After = [.. stops.Select(f => "ready.stop." + f.Id)],
            Follows = [.. stops.Select(f => "ready.stop." + f.Id)],
            CanDeviate = false,
        };
        foreach (var finding in stops)
            yield return new()
            {
                Id = "ready.stop." + finding.Id,
                Phase = Phase.Ready,
                Card = Said.In("Check"),
                Title = Said.In("Stop: ") + Said.Name(finding.Id.Replace('-', ' ')),
                Where = Said.In("Findings of the program page"),
                Why = Said.In("Cycle start is not pressed until it is fixed, or a supervisor signs why it may stand."),
                Takes = Takes.SupervisorsReason,
                RestsOn = [Ground.Finding(finding.Id)],
                Notes = [.. finding.Messages.Select(Said.Again)],
            };
        foreach (var finding in plan.Findings.Where(f => f.Level == Level.Check))
            yield return new()
            {
                Id = "ready.seen." + finding.Id,
                Phase = Phase.Ready,
                Card = Said.In("Check"),
                Title = Said.In("Look at: ") + Said.Name(finding.Id.Replace('-', ' ')),
                Where = Said.In("The program at the lines named"),
                Why = Said.In("A person has to look at it before anything moves."),
                Takes = Takes.Seen,
                RestsOn = [Ground.Finding(finding.Id)],
                Notes = [.. finding.Messages.Select(Said.Again)],
            };
    }

    static StepRule Program(ProgramInControl program, int index) =>
        new()
        {
            Id =
                index == 0
                    ? "ready.program"
                    : string.Create(CultureInfo.InvariantCulture, $"ready.program.{index + 1}"),
            Phase = Phase.Ready,
            Card = Said.In("Program"),
            Title =
                index == 0
                    ? Said.In("The program in the control is the one checked")
                    : Said.In($"The subprogram {program.Name} is the one checked"),
            Where = Said.In(
                $"Program page of the control: its number, and what stands in line {program.AskedLine} of the file ({Found(program)})"
            ),
            Why = Said.In("An older revision in the control cuts what nobody checked."),
            Takes = Takes.ProgramLine,
            Program = program,
            Blind = true,
            RestsOn = [Ground.Program],
        };

    static StepRule Parameter(PlannedParameter parameter) =>
        new()
        {
            Id = string.Create(CultureInfo.InvariantCulture, $"ready.parameter.{parameter.Number}"),
            Phase = Phase.Ready,
            Card = Said.In("Program"),
            Title = Said.In($"#{parameter.Number} holds {parameter.Typed}"),
            Where = Said.In($"Page of the control's parameters, or variables: #{parameter.Number}"),
            Why = Said.In("The program is worked out with it: another value is another path than the one checked."),
            Takes = Takes.AgreesOrDiffers,
            RestsOn = [Ground.Parameter(parameter.Number)],
        };

    /// <summary>How to find the block: by its N number where it has one.</summary>
    static string Found(ProgramInControl program)
    {
        var block = program.AskedBlock.TrimStart('/').TrimStart();
        if (!block.StartsWith('N'))
            return Said.In("count the lines from the first");
        return Said.In("block N") + string.Concat(block.Skip(1).TakeWhile(char.IsAsciiDigit));
    }

    static StepRule Table(ProveOutPlan plan) =>
        new()
        {
            Id = "ready.table",
            Phase = Phase.Ready,
            Card = Said.In("Table"),
            Title = Said.In(
                "Look at the table: holding seated and tight, nothing there that the setup does not describe; measure the tallest thing"
            ),
            Where =
                plan.HeightAbove.Length > 0
                    ? Said.In(
                        $"Height of the tallest thing above the zero of {plan.HeightAbove}, with a rule or a height gauge"
                    )
                    : Said.In("Height of the tallest thing above the table, with a rule or a height gauge"),
            Why = Said.In(
                "The raise was worked out for what the setup describes: a taller clamp is hit in the air cut."
            ),
            Takes = Takes.Reading,
            Blind = plan.TallestThing is not null,
            Expects = plan.TallestThing is null ? Expects.Nothing : Expects.TallestThing,
            RestsOn = [Ground.Holding],
            Cautions =
            [
                Said.In("Hands on the table only with the spindle standing still and the control out of automatic."),
            ],
        };

    static IEnumerable<StepRule> Tool(ProveOutPlan plan, PlannedTool tool)
    {
        var card = "T" + tool.Key;
        yield return new()
        {
            Id = $"ready.tool.{tool.Key}",
            Phase = Phase.Ready,
            Card = card,
            Title = Said.In(
                $"T{tool.Tool} is in {(tool.Pocket is { } p ? Said.In($"pocket {p}") : Said.In("its pocket"))}: {Described(tool)}"
            ),
            Where = Said.In("The tool itself, at the pocket"),
            Why = Said.In("The wrong tool, or one that sticks out further, is driven where another one fits."),
            Takes = Takes.AgreesOrDiffers,
            Tool = tool,
            RestsOn = [Ground.Tool(tool.Key)],
            Notes = tool.Stickout is { } s ? [Said.In($"Stick-out {s.ToRegisterText(plan.Units)}")] : [],
        };
        foreach (var register in StepTable.LengthRegisters(plan, tool))
            yield return new()
            {
                Id = $"ready.tool.{tool.Key}.{register.Axis}",
                Phase = Phase.Ready,
                Card = card,
                Title = Said.In($"Read {register}"),
                Where = Said.In("Tool offset page of the control"),
                Why = Said.In("A length that belongs to another tool drives this one into the part."),
                Takes = Takes.Reading,
                Blind = true,
                Expects = Expects.Setup,
                Register = register,
                Tool = tool,
                RestsOn = [Ground.Tool(tool.Key)],
                CanDeviate = false,
            };
    }

    static string Described(PlannedTool tool) =>
        tool is { Kind: "", Description: "" } ? Said.In("look what it is") : $"{tool.Kind} {tool.Description}".Trim();

    static StepRule Offset(PlannedRegister planned) =>
        new()
        {
            Id = $"ready.offset.{planned.Register.Name}.{planned.Register.Axis}",
            Phase = Phase.Ready,
            Card = CardOf(planned.Register),
            Title = Said.In($"Read {planned.Register}"),
            Where =
                planned.Register.Name == "shift"
                    ? Said.In("Position page: shifts in force (G52, G92)")
                    : Said.In("Work offset page of the control"),
            Why = Said.In("A wrong work offset moves the whole program, and the raise would be put on top of it."),
            Takes = Takes.Reading,
            Blind = true,
            Expects = Expects.Setup,
            Register = planned.Register,
            RestsOn = [Ground.Baseline(planned.Register)],
            CanDeviate = false,
        };

    public static string CardOf(Register register) =>
        register.Name switch
        {
            "common" => Said.In("Common offset"),
            "shift" => Said.In("Shifts"),
            _ => register.Name,
        };

    static IEnumerable<StepRule> Machine(ProveOutPlan plan)
    {
        yield return Tick(
            "referenced",
            Said.In("Referenced and warm"),
            Said.In("Position page"),
            Said.In("A machine that lost its reference moves to the wrong place.")
        );
        yield return Tick(
            "guards",
            Said.In("Guards and door closed, interlocks in force"),
            Said.In("Around the machine"),
            Said.In("A hand or a chip goes where it should not.")
        );
        yield return Tick(
            "feed-hold",
            Said.In("Feed hold and emergency stop tried"),
            Said.In("Press both, see the axes stop, set them back"),
            Said.In("The two ways to stop are the only ones left once it moves.")
        );
        yield return Tick(
            "single-block",
            Said.In("Single block on"),
            Said.In("Switches"),
            Said.In("One block at a time until the Z values line up.")
        );
        yield return Tick(
            "block-delete",
            Said.In("Block delete and optional stop as the setup says"),
            Said.In("Switches"),
            Said.In("The other position runs another program than the one checked.")
        );
        yield return Tick(
            "axis-lock",
            Said.In("Axis lock off"),
            Said.In("Switches"),
            Said.In("A locked axis lets the display and the machine part ways.")
        );
        yield return new()
        {
            Id = "ready.machine.rapid",
            Phase = Phase.Ready,
            Card = Said.In("Machine made ready"),
            Title = Said.In("Rapid override"),
            Where = Said.In("The override's own display or switch"),
            Why = Said.In("At full rapid there is no time to reach feed hold."),
            Takes = Takes.Percent,
            Expects = Expects.AtMost,
            AtMost = plan.RapidOverride * 100,
        };
    }

    static StepRule Tick(string key, string title, string where, string why) =>
        new()
        {
            Id = "ready.machine." + key,
            Phase = Phase.Ready,
            Card = Said.In("Machine made ready"),
            Title = title,
            Where = where,
            Why = why,
            Takes = Takes.Tick,
        };
}
