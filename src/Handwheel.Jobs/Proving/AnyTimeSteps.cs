using System.Globalization;

namespace Handwheel.Jobs.Proving;

/// <summary>Steps that may come at any time: reading back, putting back, parking.</summary>
static class AnyTimeSteps
{
    public static IEnumerable<StepRule> Parking(ProveOutPlan plan) =>
        plan.Parking.Select(
            (line, i) =>
                new StepRule
                {
                    Id = string.Create(CultureInfo.InvariantCulture, $"parking.{i + 1}"),
                    Phase = Phase.Parking,
                    Card = "Parking",
                    Title = Capital(line),
                    Where = "At the machine",
                    Why = "The next start begins with what is left here.",
                    Takes = Takes.Tick,
                    CanDeviate = false,
                    Cautions = line.Contains("isolator", StringComparison.OrdinalIgnoreCase)
                        ? ["Power off and locked out as the site requires, by authorised people."]
                        : [],
                }
        );

    /// <summary>A register that is not as it should be is put back and read: any time, and first when parking.</summary>
    public static StepRule PutBack(Register register) =>
        new()
        {
            Id = $"put-back.{register.Name}.{register.Axis}",
            Phase = Phase.Parking,
            Card = "Put back",
            Title = $"Put {register} back and read it",
            Where = "Offset page of the control",
            Why = "Whoever comes next takes the register for what it was before the raise.",
            Takes = Takes.Reading,
            Blind = true,
            Expects = Expects.LedgerBaseline,
            Register = register,
            CanDeviate = false,
        };

    public static StepRule ReadBack(Register register) =>
        new()
        {
            Id = $"read-back.{register.Name}.{register.Axis}",
            Phase = Phase.ReadBack,
            Card = register.Axis.Length == 1 ? ReadySteps.CardOf(register) : "Tool lengths",
            Title = $"Read {register} back",
            Where = register.Axis.Length == 1 ? "Work offset page of the control" : "Tool offset page of the control",
            Why = "What was written and what the control holds may have parted.",
            Takes = Takes.Reading,
            Blind = true,
            Expects = Expects.AsItStands,
            Register = register,
            CanDeviate = false,
        };

    /// <summary>After an interruption, beside the registers.</summary>
    public static IEnumerable<StepRule> AfterInterruption() =>
        [
            new()
            {
                Id = "read-back.referenced",
                Phase = Phase.ReadBack,
                Card = "Interruption",
                Title = "Referenced again, where the machine needs it",
                Where = "Position page",
                Why = "After power loss or an alarm the display may not be where the axes are.",
                Takes = Takes.Tick,
                CanDeviate = false,
            },
            new()
            {
                Id = "read-back.restart",
                Phase = Phase.ReadBack,
                Card = "Interruption",
                Title = "Restart line: a line where everything modal is stated again",
                Where = "The program: write the line",
                Why = "A start in the middle runs with whatever mode, offset and length are left.",
                Takes = Takes.TickWithWords,
                CanDeviate = false,
            },
        ];

    static string Capital(string line) => line.Length == 0 ? line : char.ToUpperInvariant(line[0]) + line[1..];
}
