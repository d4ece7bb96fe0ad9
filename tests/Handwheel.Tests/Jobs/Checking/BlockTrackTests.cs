using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Checking;

public sealed class BlockTrackTests
{
    static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);

    static BlockTrack Track(CorpusProgram program) => BlockTrack.Of(Bytes(program.Program), program.Setup, new());

    public static TheoryData<string> Clean() => [.. Corpus.Clean.Select(p => p.Name)];

    [Theory]
    [MemberData(nameof(Clean))]
    public void The_blocks_share_out_the_path_and_all_of_its_lines(string name)
    {
        var program = Corpus.Clean.Single(p => p.Name == name);
        var track = Track(program);
        var path = KeptPath.Of(Bytes(program.Program), SettingsOf.Control(program.Setup), new());
        var check = Setups.Run(program.Program, program.Setup);
        Assert.Equal(check.Program.BlocksExecuted, track.Blocks);
        Assert.Equal(path.Count, track.Path.Count);
        var next = 0;
        for (var block = 1; block <= track.Blocks; block++)
        {
            var segments = track.Segments(block);
            Assert.Equal(next, segments.Start.Value);
            next = segments.End.Value;
            for (var i = segments.Start.Value; i < next; i++)
            {
                Assert.Equal(path[i], track.Path[i]);
                // under compensation the way round a corner is told with the block before it
                if (!program.Program.Contains("G41", StringComparison.Ordinal))
                    Assert.Equal(track.Line(block), path[i].Line);
            }
        }
        Assert.Equal(path.Count, next);
    }

    [Theory]
    [MemberData(nameof(Clean))]
    public void Without_acceleration_its_seconds_are_those_of_the_run_time(string name)
    {
        var program = Corpus.Clean.Single(p => p.Name == name);
        var setup = program.Setup with
        {
            Machine = program.Setup.Machine with { Acceleration = null, ToolChangeSeconds = 0 },
        };
        var track = BlockTrack.Of(Bytes(program.Program), setup, new());
        if (
            Setups.Run(program.Program, setup).RunTime.Programmed is not { } seconds
            || program.Program.Contains("G4", StringComparison.Ordinal) && program.Program.Contains('P')
        )
            return;
        Assert.True(track.TimeKnown);
        Assert.Equal((double)seconds, Enumerable.Range(1, track.Blocks).Sum(b => (double)track.Seconds(b)), 3);
    }

    [Fact]
    public void A_line_is_found_where_it_is_executed_first_and_then_again()
    {
        var track = BlockTrack.Of(Bytes("G0 X0\nM98 P7 L2\nM30\nO7\nG0 X1\nX2\nM99"), Corpus.Clean[0].Setup, new());
        var first = track.FirstOf(0, 5)!.Value;
        var second = track.FirstOf(0, 5, first + 1)!.Value;
        Assert.Equal((5, 5), (track.Line(first), track.Line(second)));
        Assert.True(second > first);
        Assert.Null(track.FirstOf(0, 5, second + 1));
        Assert.Null(track.FirstOf(0, 4));
        Assert.Null(track.FirstOf(1, 5));
        Assert.Equal(
            [((0, 5), first)],
            track.FirstOf(new HashSet<(int, int)> { (0, 5), (0, 4) }).Select(f => (f.Key, f.Value))
        );
    }

    [Fact]
    public void A_subprograms_blocks_are_of_its_file()
    {
        var track = BlockTrack.Of(
            Bytes("G0 X0\nM98 P7\nG0 X3\nM30"),
            Corpus.Clean[0].Setup,
            new() { Subprogram = _ => Bytes("O7\nG0 X1\nX2\nM99") }
        );
        var files = Enumerable.Range(1, track.Blocks).Select(b => (track.File(b), track.Line(b)));
        Assert.Equal([(0, 1), (0, 2), (1, 2), (1, 3), (1, 4), (0, 3), (0, 4)], files);
        Assert.Equal(track.FirstOf(1, 3), 4);
    }

    [Fact]
    public void Where_the_check_stops_knowing_the_track_says_so()
    {
        var track = BlockTrack.Of(Bytes("G0 X0\nX1\nM777\nX2\nM30"), Corpus.Clean[0].Setup, new());
        Assert.Equal(3, track.GuessedFrom);
        Assert.Null(BlockTrack.Of(Bytes("G0 X0\nX1\nX2\nM30"), Corpus.Clean[0].Setup, new()).GuessedFrom);
    }

    [Fact]
    public void A_program_longer_than_is_kept_says_so()
    {
        var text = Bytes("G0 X0\nX1\nX2\nX3\nM30");
        var cut = BlockTrack.Of(text, Corpus.Clean[0].Setup, new() { BlocksMost = 3 });
        Assert.Equal((3, false), (cut.Blocks, cut.IsWhole));
        Assert.True(BlockTrack.Of(text, Corpus.Clean[0].Setup, new()).IsWhole);
    }

    [Fact]
    public void The_outline_of_a_path_is_what_thinning_keeps()
    {
        var text = new StringBuilder("G0 X0 Y0 Z1\nG1 F9\n");
        for (var i = 0; i < 5000; i++)
            text.Append(
                System.Globalization.CultureInfo.InvariantCulture,
                $"X{Math.Sin(i * 0.7):0.####} Y{i * 0.001:0.###}\n"
            );
        var path = BlockTrack.Of(Bytes(text.ToString()), Corpus.Clean[0].Setup, new()).Path;
        var (outline, thin) = (path.Outline(500), path.Thin(500));
        Assert.Equal(thin.Count, outline.Count);
        Assert.Equal(Enumerable.Range(0, thin.Count).Select(i => thin[i]), outline.Select(i => path[i]));
        Assert.Equal(path.Count, path.Outline(path.Count).Count);
    }
}
