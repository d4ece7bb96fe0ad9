using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// What a control shows at one executed block, worked out as for a stop. Lengths in the setup's units; null where it is not known.
/// <see cref="MachineFrom"/> and <see cref="MachineTo"/> are what a blind reading is compared with: no page shows them.
/// </summary>
public sealed record BlockReadings
{
    /// <summary>From 1, of all that are executed.</summary>
    public required int Block { get; init; }
    public required int Line { get; init; }

    /// <summary>0: the main program; else subprogram files in the order in which they were opened.</summary>
    public required int File { get; init; }
    public required int Tool { get; init; }
    public required string WorkOffset { get; init; }

    /// <summary>In force after the block, motion first.</summary>
    public required IReadOnlyList<string> Modal { get; init; }

    /// <summary>Where the block starts and where it goes (in a canned cycle: the bottom of the hole), from the zero of the work offset.</summary>
    public required AxisValues From { get; init; }
    public required AxisValues To { get; init; }

    /// <summary>Where the axes stand when the block is done, from the zero of the work offset.</summary>
    public required AxisValues At { get; init; }

    /// <summary>False: Z stands where no work offset put it, as after a return to the reference position.</summary>
    public required bool ZFromWorkOffset { get; init; }

    /// <summary>As the control counts it down from the start of the block; all null where it does not move.</summary>
    public required AxisValues DistanceToGo { get; init; }
    public required AxisValues DistanceToGoRaised { get; init; }
    public required AxisValues MachineFrom { get; init; }
    public required AxisValues MachineTo { get; init; }
    public required bool FromLifted { get; init; }
    public required bool ToLifted { get; init; }

    /// <summary>X, Y and Z of the tool's centre, beside the programmed place (G41, G42).</summary>
    public required bool Beside { get; init; }

    /// <summary>The control reads ahead under G41 and G42: so many blocks behind the one asked for are followed too.</summary>
    const int ReadAhead = 200;

    /// <param name="raise">How far the work offsets are lifted for the air cut, nm; null: not known.</param>
    /// <returns>Null where fewer blocks are executed.</returns>
    public static BlockReadings? Follow(
        ReadOnlyMemory<byte> program,
        Setup setup,
        RunOptions options,
        int block,
        long? raise
    )
    {
        var sink = new Sink(new(block));
        Interpreter.Run(
            program,
            SettingsOf.Control(setup),
            options with
            {
                BlocksMost = Math.Min(options.BlocksMost, (long)block + ReadAhead),
            },
            ref sink
        );
        return sink.Seen.Found ? Of(sink.Seen, new Figures(setup.Units), raise) : null;
    }

    static BlockReadings Of(Seen seen, Figures figures, long? raise)
    {
        ref readonly var state = ref seen.State;
        var own = state.LengthCommanded;
        var from = seen.Moves ? Axis3.Programmed(state, seen.From, own) : default;
        var to = seen.Moves ? Axis3.Programmed(state, seen.To, own) : default;
        var lifts = (seen.ToLifted ? 1 : 0) - (seen.FromLifted ? 1 : 0);
        return new()
        {
            Block = seen.Block,
            Line = state.Line,
            File = state.File,
            Tool = state.Tool,
            WorkOffset = state.WorkOffset.ToString(),
            Modal = ModalWords.All(state, figures),
            From = from.Out(figures),
            To = to.Out(figures),
            At = Axis3.Programmed(state, state.At, own).Out(figures),
            ZFromWorkOffset = state.Lifted,
            DistanceToGo = (to - from).Out(figures),
            DistanceToGoRaised = (to - from).Raised(raise, lifts).Out(figures),
            MachineFrom = (seen.Moves ? Axis3.Machine(seen.From) : default).Out(figures),
            MachineTo = (seen.Moves ? Axis3.Machine(seen.To) : default).Out(figures),
            FromLifted = seen.FromLifted,
            ToLifted = seen.ToLifted,
            Beside = seen.Beside,
        };
    }

    /// <summary>One block as it was told.</summary>
    sealed class Seen(int block)
    {
        bool holeStarted;
        bool holeDone;

        public ControlState State;

        public int Block => block;
        public int Ended { get; private set; }
        public bool Found { get; private set; }
        public bool Moves { get; private set; }
        public Place From { get; private set; }
        public Place To { get; private set; }
        public bool FromLifted { get; private set; }
        public bool ToLifted { get; private set; }
        public bool Beside { get; private set; }

        public void Leg(in Leg leg)
        {
            if (!Moves)
                (Moves, From, FromLifted) = (true, leg.From, leg.FromLifted);
            if (leg.Part is CyclePart.Out or CyclePart.ToInitial && holeStarted)
                holeDone = true;
            holeStarted |= leg.Part == CyclePart.Down;
            if (!holeDone)
                (To, ToLifted, Beside) = (leg.To, leg.Lifted, leg.Beside);
        }

        public void BlockEnd(in ControlState state)
        {
            if (++Ended == block)
                (Found, State) = (true, state);
        }
    }

    readonly struct Sink(Seen seen) : IMotionSink
    {
        public Seen Seen => seen;

        bool IsHere => seen.Ended == seen.Block - 1;

        public void Line(ref readonly ControlState state, ref readonly Leg leg)
        {
            if (IsHere)
                seen.Leg(leg);
        }

        public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc)
        {
            if (IsHere)
                seen.Leg(leg);
        }

        public void BlockEnd(ref readonly ControlState state) => seen.BlockEnd(state);

        public void Modal(ref readonly ControlState state, Changes changes) { }

        public void ToolChange(ref readonly ControlState state, int previousTool, ref readonly Place before) { }

        public void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

        public void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

        public void Dwell(ref readonly ControlState state, double seconds) { }

        public void Fault(ref readonly ControlState state, in Fault fault) { }

        public void End(ref readonly ControlState state, RunEnd end) { }
    }
}
