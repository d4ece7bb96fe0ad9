using System.Globalization;
using Handwheel.Nc;

namespace Handwheel.Jobs.Setups;

/// <summary>A setup begun from a program alone. What a program cannot tell is null, and <see cref="ToFill"/> says what people must give.</summary>
public sealed record SetupDraft(Setup Setup, IReadOnlyList<ToolSeen> Tools, IReadOnlyList<string> ToFill);

/// <summary>What a program does with a tool. Feeds are in the setup's units per minute, or per revolution where it says so.</summary>
public sealed record ToolSeen
{
    public required int Tool { get; init; }

    /// <summary>The program's own words beside this tool; empty where there are none.</summary>
    public required string Comment { get; init; }

    /// <summary>Every H commanded while the tool is in the spindle. Whose registers they are is for people to say.</summary>
    public required IReadOnlyList<int> LengthOffsets { get; init; }
    public required IReadOnlyList<int> DiameterOffsets { get; init; }
    public required IReadOnlyList<WorkOffsetName> WorkOffsets { get; init; }

    /// <summary>Lowest and highest spindle speed in force on a feed move, rev/min; null: none.</summary>
    public required (decimal Low, decimal High)? Speed { get; init; }

    /// <summary>Lowest and highest feed of feed moves under G94.</summary>
    public required (decimal Low, decimal High)? FeedPerMinute { get; init; }

    /// <summary>Lowest and highest feed of feed moves under G95.</summary>
    public required (decimal Low, decimal High)? FeedPerRevolution { get; init; }
    public required bool Taps { get; init; }
}

/// <summary>
/// Begins a setup from a program alone: tools, work offsets, feeds, speeds and comments are read from it. A register is taken as a
/// tool's own only where its number is the tool's; anything else would make the program vouch for itself.
/// </summary>
public static class SetupFromProgram
{
    /// <param name="program">The program's bytes.</param>
    /// <param name="machine">The machine that it is for.</param>
    /// <param name="units">The setup's units where the program states none.</param>
    public static SetupDraft Draft(byte[] program, Machine machine, Units units, RunOptions? options = null)
    {
        var survey = new ProgramSurvey();
        var sink = new SurveySink(survey);
        Interpreter.Run(program, Control(machine, units), options ?? new RunOptions(), ref sink);
        var written = survey.Units ?? units;
        var comments = new ToolComments(program);
        var seen = survey.Tools.Select(t => t.Seen(written, comments.Of(t.Number, t.FirstLine))).ToList();
        var setup = new Setup
        {
            Units = written,
            Machine = machine,
            WorkOffsets = survey.WorkOffsets.Order().ToDictionary(name => name, _ => default(Offset)),
            Tools = [.. seen.Where(t => t.Tool > 0).OrderBy(t => t.Tool).Select(Begun)],
        };
        return new(setup, seen, ToFill(setup, seen, survey));
    }

    internal static ControlSettings Control(Machine machine, Units units) =>
        new()
        {
            Units = units,
            Reads = machine.Reads,
            LeastIncrement = (
                machine.LeastIncrement ?? Length.From(units == Units.Inch ? 0.0001m : 0.001m, units)
            ).Nanometres,
            ToolChangeZ = (machine.ToolChangeZ ?? machine.Travel.Z.High).Nanometres,
            Harmless = machine.Harmless.ToHashSet(StringComparer.Ordinal),
        };

    static Tool Begun(ToolSeen seen) =>
        new()
        {
            Number = seen.Tool,
            Kind = seen.Taps ? "tap" : ToolComments.Kind(seen.Comment),
            Description = seen.Comment,
            LengthOffset = seen.LengthOffsets.Contains(seen.Tool) ? seen.Tool : null,
            DiameterOffset = seen.DiameterOffsets.Contains(seen.Tool) ? seen.Tool : null,
        };

    static List<string> ToFill(Setup setup, List<ToolSeen> seen, ProgramSurvey survey)
    {
        var lines = new List<string>();
        if (survey.Units is null)
            lines.Add("The program states no unit (G20 or G21): make sure which unit it is written in.");
        foreach (var name in setup.WorkOffsets.Keys)
            lines.Add($"{name}: the register's X, Y and Z.");
        if (seen.Exists(t => t.Tool == 0))
            lines.Add("The program moves before its first tool change: which tool is in the spindle then?");
        foreach (var tool in seen.Where(t => t.Tool > 0).OrderBy(t => t.Tool))
        {
            var name = string.Create(CultureInfo.InvariantCulture, $"T{tool.Tool}");
            lines.Add($"{name}: length, diameter, and what it is held in.");
            Foreign(tool.LengthOffsets, 'H', "length");
            Foreign(tool.DiameterOffsets, 'D', "diameter");

            void Foreign(IReadOnlyList<int> registers, char letter, string what)
            {
                foreach (var register in registers.Where(r => r != tool.Tool && r != 0))
                    lines.Add(
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"{name} is used with {letter}{register}, not {letter}{tool.Tool}: is {letter}{register} this tool's own {what} register?"
                        )
                    );
            }
        }
        lines.Add("Stock and holding: where they stand and how high.");
        if (!survey.Ended)
            lines.Add("The program could not be followed to its end: tools or offsets may be missing here.");
        return lines;
    }
}
