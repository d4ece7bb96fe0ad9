using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Motions;

/// <summary>A program with what it is followed with.</summary>
public sealed record FollowedProgram(string Name, byte[] Bytes, Setup Setup, CheckOptions Options);

/// <summary>
/// What the machine would do with each tool, from following the program. Counted as doing something else: another end of a
/// move, another axis or frame, rapid for feed, another arc, length offset, work offset, compensation, a stop, a shift, a
/// register that is written, the spindle on or off, a slash; and apart from these how it cuts: feed, speed, direction,
/// coolant, dwell, exact stop. Comments, block numbers, blanks, case, leading zeros and words that move nothing do not
/// count, nor do the values of the registers, which have their own steps.
/// </summary>
public sealed record ProgramMotion
{
    /// <summary>By tool number: digest of where the tool goes. Empty where <see cref="Unknown"/> says why.</summary>
    public required IReadOnlyDictionary<int, string> Paths { get; init; }

    /// <summary>By tool number: digest of feed, speed and the like.</summary>
    public required IReadOnlyDictionary<int, string> Cutting { get; init; }

    /// <summary>Why it cannot be told, in words with the line; null: it can.</summary>
    public string? Unknown { get; init; }

    internal IReadOnlyList<MotionDigest> Tools { get; init; } = [];

    /// <exception cref="OperationCanceledException">Stopped by the options' token.</exception>
    public static ProgramMotion Of(FollowedProgram program)
    {
        var tools = new List<MotionDigest>();
        var byNumber = new Dictionary<int, MotionDigest>();
        var teller = Run(
            program,
            (int tool, in MotionEvent told) =>
            {
                if (!byNumber.TryGetValue(tool, out var digest))
                {
                    byNumber[tool] = digest = new(tool);
                    tools.Add(digest);
                }
                digest.Add(told);
            }
        );
        foreach (var tool in tools)
        {
            tool.Close(teller.End);
            tool.Dispose();
        }
        return new()
        {
            Paths = teller.Unknown is null
                ? tools.ToDictionary(t => t.Tool, t => t.Path)
                : new Dictionary<int, string>(),
            Cutting = teller.Unknown is null
                ? tools.ToDictionary(t => t.Tool, t => t.Cutting)
                : new Dictionary<int, string>(),
            Unknown = teller.Unknown,
            Tools = tools,
        };
    }

    /// <summary>Events of some tools from one mark to the next.</summary>
    internal static Dictionary<int, List<MotionEvent>> Read(
        FollowedProgram program,
        IReadOnlyDictionary<int, (long From, long To)> windows
    )
    {
        var read = windows.Keys.ToDictionary(t => t, _ => new List<MotionEvent>());
        var counts = windows.Keys.ToDictionary(t => t, _ => 0L);
        Run(
            program,
            (int tool, in MotionEvent told) =>
            {
                if (!windows.TryGetValue(tool, out var window))
                    return;
                var number = counts[tool]++;
                if (number >= window.From && number < window.To)
                    read[tool].Add(told);
            }
        );
        return read;
    }

    static MotionTeller Run(FollowedProgram program, MotionHeard heard)
    {
        var options = program.Options;
        var texts = new ProgramTexts(program.Name, program.Bytes);
        var teller = new MotionTeller(heard, texts);
        var sink = new MotionSink(teller);
        Interpreter.Run(
            program.Bytes,
            SettingsOf.Control(program.Setup),
            new RunOptions
            {
                BlockDelete = options.BlockDelete,
                BlocksMost = options.BlocksMost,
                Subprogram = options.Subprogram is { } find ? texts.Keeping(find) : null,
                Parameters = options.Parameters,
                Stop = options.Stop,
            },
            ref sink
        );
        return teller;
    }
}
