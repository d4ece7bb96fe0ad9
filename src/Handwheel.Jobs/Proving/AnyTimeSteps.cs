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
                    Card = Said.In("Parking"),
                    Title = Capital(line),
                    Where = Said.In("At the machine"),
                    Why = Said.In("The next start begins with what is left here."),
                    Takes = Takes.Tick,
                    CanDeviate = false,
                    Cautions = line.Contains("isolator", StringComparison.OrdinalIgnoreCase)
                        ? [Said.In("Power off and locked out as the site requires, by authorised people.")]
                        : [],
                }
        );

    /// <summary>A register that is not as it should be is put back and read: any time, and first when parking.</summary>
    public static StepRule PutBack(Register register) =>
        new()
        {
            Id = $"put-back.{register.Name}.{register.Axis}",
            Phase = Phase.Parking,
            Card = Said.In("Put back"),
            Title = Said.In($"Put {register} back and read it"),
            Where = Said.In("Offset page of the control"),
            Why = Said.In("Whoever comes next takes the register for what it was before the raise."),
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
            Card = register.Axis.Length == 1 ? ReadySteps.CardOf(register) : Said.In("Tool lengths"),
            Title = Said.In($"Read {register} back"),
            Where =
                register.Axis.Length == 1
                    ? Said.In("Work offset page of the control")
                    : Said.In("Tool offset page of the control"),
            Why = Said.In("What was written and what the control holds may have parted."),
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
                Card = Said.In("Interruption"),
                Title = Said.In("Referenced again, where the machine needs it"),
                Where = Said.In("Position page"),
                Why = Said.In("After power loss or an alarm the display may not be where the axes are."),
                Takes = Takes.Tick,
                CanDeviate = false,
            },
            new()
            {
                Id = "read-back.restart",
                Phase = Phase.ReadBack,
                Card = Said.In("Interruption"),
                Title = Said.In("Restart line: a line where everything modal is stated again"),
                Where = Said.In("The program: write the line"),
                Why = Said.In("A start in the middle runs with whatever mode, offset and length are left."),
                Takes = Takes.TickWithWords,
                CanDeviate = false,
            },
        ];

    static string Capital(string line) => line.Length == 0 ? line : char.ToUpperInvariant(line[0]) + line[1..];
}
