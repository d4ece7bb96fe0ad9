using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// A program's path with the block that each piece of it comes from: what a page needs that goes through a program block by block. Blocks
/// are those that were executed, from 1, so a line in a loop is as many blocks as it has rounds. 12 bytes a block beside the path.
/// </summary>
public sealed class BlockTrack
{
    /// <summary>More blocks are not kept: so many are gone through by nobody, and a page must stay a page.</summary>
    public const int BlocksMost = 4_000_000;

    readonly List<Kept> blocks = [];
    readonly List<(int Block, int File)> files = [];

    BlockTrack(KeptPath path) => Path = path;

    /// <param name="Line">In its file, from 1.</param>
    /// <param name="End">Segments of the path once the block is done.</param>
    /// <param name="Seconds">At the programmed feeds and the machine's rapids; not finite where one of them is not known.</param>
    readonly record struct Kept(int Line, int End, float Seconds);

    public KeptPath Path { get; }

    /// <summary>How many blocks are kept.</summary>
    public int Blocks => blocks.Count;

    /// <summary>False: the program goes on behind the last block that is kept.</summary>
    public bool IsWhole { get; private set; } = true;

    /// <summary>The first block from which on the path is a guess, because something before or in it could not be read or followed; null: none.</summary>
    public int? GuessedFrom { get; private set; }

    /// <summary>The machine's rapid rates are given, so that <see cref="Seconds"/> means something.</summary>
    public bool TimeKnown { get; private init; }

    public int Line(int block) => blocks[block - 1].Line;

    /// <summary>0: the main program; else subprogram files in the order in which they were opened.</summary>
    public int File(int block)
    {
        var run = files.Count - 1;
        while (run > 0 && files[run].Block > block)
            run--;
        return files.Count == 0 ? 0 : files[run].File;
    }

    /// <summary>The block's segments in <see cref="Path"/>: from the first to before the last; none where it does not move.</summary>
    public System.Range Segments(int block) => (block > 1 ? blocks[block - 2].End : 0)..blocks[block - 1].End;

    public float Seconds(int block) => blocks[block - 1].Seconds;

    /// <summary>The first time at or behind a block that a line is executed; null where it never is.</summary>
    public int? FirstOf(int file, int line, int from = 1)
    {
        for (var run = 0; run < files.Count; run++)
        {
            if (files[run].File != file)
                continue;
            var end = run + 1 < files.Count ? files[run + 1].Block : Blocks + 1;
            for (var block = Math.Max(from, files[run].Block); block < end; block++)
                if (Line(block) == line)
                    return block;
        }
        return null;
    }

    /// <summary>The same for many lines in one go; those that are never executed are left out.</summary>
    public IReadOnlyDictionary<(int File, int Line), int> FirstOf(IReadOnlySet<(int File, int Line)> lines)
    {
        var first = new Dictionary<(int File, int Line), int>();
        var run = -1;
        for (var block = 1; block <= Blocks && first.Count < lines.Count; block++)
        {
            if (run + 1 < files.Count && files[run + 1].Block <= block)
                run++;
            var at = (files[run].File, Line(block));
            if (lines.Contains(at))
                first.TryAdd(at, block);
        }
        return first;
    }

    /// <summary>Follows the program as the check does.</summary>
    public static BlockTrack Of(ReadOnlyMemory<byte> program, Setup setup, RunOptions options)
    {
        var path = new KeptPath();
        var track = new BlockTrack(path) { TimeKnown = setup.Machine.Rapid is not null };
        var sink = new BothSinks<KeptPathSink, Sink>(new(path, Chord), new(track, setup));
        Interpreter.Run(
            program,
            SettingsOf.Control(setup),
            options with
            {
                BlocksMost = Math.Min(options.BlocksMost, BlocksMost),
            },
            ref sink
        );
        return track;
    }

    /// <summary>Chords leave their arcs by no more, nm.</summary>
    const long Chord = 10_000;

    struct Sink(BlockTrack track, Setup setup) : IMotionSink
    {
        readonly double maxFeed = setup.Machine.MaxFeed is { } feed
            ? (double)feed * setup.Units.Nanometres() / 60
            : double.PositiveInfinity;
        readonly Rates rapid = Rates.From(setup.Machine.Rapid, setup.Units.Nanometres() / 60.0);
        double seconds;
        int file = -1;

        public void Line(ref readonly ControlState state, ref readonly Leg leg)
        {
            var (dx, dy, dz) = (leg.To.X - leg.From.X, leg.To.Y - leg.From.Y, leg.To.Z - leg.From.Z);
            if (!IsKept(leg) || (dx | dy | dz) == 0)
                return;
            seconds += Facts.IsFeed(leg.Kind)
                ? AtFeed(state, Math.Sqrt((double)dx * dx + (double)dy * dy + (double)dz * dz))
                : Math.Max(Math.Abs(dx) / rapid.X, Math.Max(Math.Abs(dy) / rapid.Y, Math.Abs(dz) / rapid.Z));
        }

        public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc)
        {
            if (IsKept(leg))
                seconds += AtFeed(state, arc.Length);
        }

        readonly double AtFeed(in ControlState state, double length) => length / FeedSpeed.Of(state, length, maxFeed);

        /// <summary>As the path keeps it: a move from or to a place that is not known has no length.</summary>
        static bool IsKept(in Leg leg) =>
            leg.From.RestX == leg.To.RestX && leg.From.RestY == leg.To.RestY && leg.From.RestZ == leg.To.RestZ;

        public void BlockEnd(ref readonly ControlState state)
        {
            if (state.File != file)
            {
                file = state.File;
                track.files.Add((track.Blocks + 1, file));
            }
            track.blocks.Add(new(state.Line, track.Path.Count, (float)seconds));
            seconds = 0;
        }

        public readonly void Fault(ref readonly ControlState state, in Fault fault)
        {
            if (fault.Kind == FaultKind.NeverEnds)
                track.IsWhole = false;
            else if (fault.Kind is FaultKind.CannotFollow or FaultKind.CannotRead)
                track.GuessedFrom ??= track.Blocks + 1;
        }

        public readonly void Modal(ref readonly ControlState state, Changes changes) { }

        public readonly void ToolChange(
            ref readonly ControlState state,
            int previousTool,
            ref readonly Place before
        ) { }

        public readonly void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

        public readonly void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

        public readonly void Dwell(ref readonly ControlState state, double dwell) { }

        public readonly void End(ref readonly ControlState state, RunEnd end) { }
    }
}
