using System.Text;
using CsCheck;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Going through a program block by block shows what the check and the interpreter say of the same block.</summary>
public sealed class BlockReadingsTests
{
    /// <summary>What the interpreter tells of a block, kept whole.</summary>
    sealed record Told(int Line, int File, int Tool, Place? From, Place At, ControlState State);

    struct Log(List<Told> told) : IMotionSink
    {
        Place? from;

        public void Line(ref readonly ControlState state, ref readonly Leg leg) => from ??= leg.From;

        public void Arc(ref readonly ControlState state, ref readonly Leg leg, ref readonly Arc arc) =>
            from ??= leg.From;

        public void BlockEnd(ref readonly ControlState state)
        {
            told.Add(new(state.Line, state.File, state.Tool, from, state.At, state));
            from = null;
        }

        public readonly void Modal(ref readonly ControlState state, Changes changes) { }

        public readonly void ToolChange(
            ref readonly ControlState state,
            int previousTool,
            ref readonly Place before
        ) { }

        public readonly void RegisterWritten(ref readonly ControlState state, in RegisterWrite write) { }

        public readonly void ShiftSet(ref readonly ControlState state, ShiftKind kind, Axes axes, bool fromMachineZ) { }

        public readonly void Dwell(ref readonly ControlState state, double seconds) { }

        public readonly void Fault(ref readonly ControlState state, in Fault fault) { }

        public readonly void End(ref readonly ControlState state, RunEnd end) { }
    }

    static byte[] Bytes(CorpusProgram program) => Encoding.UTF8.GetBytes(program.Program);

    static List<Told> Tell(CorpusProgram program)
    {
        var told = new List<Told>();
        var log = new Log(told);
        Interpreter.Run(Bytes(program), SettingsOf.Control(program.Setup), new(), ref log);
        return told;
    }

    static decimal? Unit(CorpusProgram program, long? nm) =>
        nm is { } known ? decimal.Round(known / (decimal)program.Setup.Units.Nanometres(), 6) : null;

    [Fact]
    public void Any_block_of_a_clean_program_ends_where_the_interpreter_says() =>
        (
            from which in Gen.Int[0, Corpus.Clean.Count - 1]
            from part in Gen.Double[0, 1]
            select (Program: Corpus.Clean[which], part)
        ).Sample(
            at =>
            {
                var told = Tell(at.Program);
                var block = Math.Clamp((int)(at.part * told.Count) + 1, 1, told.Count);
                var read = BlockReadings.Follow(Bytes(at.Program), at.Program.Setup, new(), block, raise: null)!;
                var (expected, state) = (told[block - 1], told[block - 1].State);
                Assert.Equal(
                    (expected.Line, expected.File, expected.Tool, block),
                    (read.Line, read.File, read.Tool, read.Block)
                );
                if (expected.At.RestX == state.RestX)
                    Assert.Equal(Unit(at.Program, expected.At.X - state.WorkX - state.CommonX), read.At.X);
                if (expected.At.RestY == state.RestY)
                    Assert.Equal(Unit(at.Program, expected.At.Y - state.WorkY - state.CommonY), read.At.Y);
                if (state.LengthCommanded && expected.At.RestZ == state.RestZ)
                    Assert.Equal(
                        Unit(at.Program, expected.At.Z - state.WorkZ - state.CommonZ - state.LengthZ),
                        read.At.Z
                    );
                Assert.Equal(state.Lifted, read.ZFromWorkOffset);
                Assert.Contains(state.WorkOffset.ToString(), read.Modal);
            },
            iter: 300
        );

    public static TheoryData<string> Clean() => [.. Corpus.Clean.Select(p => p.Name)];

    [Theory]
    [MemberData(nameof(Clean))]
    public void At_every_stop_of_the_check_the_block_shows_the_same(string name)
    {
        var program = Corpus.Clean.Single(p => p.Name == name);
        var check = Setups.Run(program.Program, program.Setup);
        var raise = check.AirCut.SuggestedRaise is { } r ? Length.From(r, program.Setup.Units).Nanometres : (long?)null;
        var told = Tell(program);
        foreach (var stop in check.Stops)
        {
            var blocks = Enumerable
                .Range(1, told.Count)
                .Where(b => told[b - 1].Line == stop.Line && told[b - 1].Tool == stop.Tool)
                .Select(b => BlockReadings.Follow(Bytes(program), program.Setup, new(), b, raise)!)
                .Select(b => (b.From, b.To, b.DistanceToGo, b.DistanceToGoRaised, b.MachineTo, b.WorkOffset))
                .ToList();
            // a line in a loop is several blocks, of which one is the stop
            Assert.Contains(
                (stop.From, stop.To, stop.DistanceToGo, stop.DistanceToGoRaised, stop.MachineTo, stop.WorkOffset),
                blocks
            );
        }
    }

    [Fact]
    public void A_block_that_is_never_executed_has_nothing_to_show() =>
        Assert.Null(BlockReadings.Follow("G0 X1\nM30"u8.ToArray(), Corpus.Clean[0].Setup, new(), 3, raise: null));

    [Fact]
    public void What_is_in_force_is_said_in_the_programs_own_words()
    {
        var program = "G21 G18 G91 G95\nT4 M6\nG55 S900 M4\nG43 H4 M8\nG42 D2 G1 X1 F0.1"u8.ToArray();
        var read = BlockReadings.Follow(program, Corpus.Clean[0].Setup, new(), 5, raise: null)!;
        Assert.Equal(
            ["G1", "G21", "G18", "G91", "G95", "G98", "G42 D2", "G43 H4", "G55", "F 0.00394 in/rev", "M4 S900", "M8"],
            read.Modal
        );
    }
}
