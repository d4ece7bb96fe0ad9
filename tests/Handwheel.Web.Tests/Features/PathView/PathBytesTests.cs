using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Features.PathView;
using Handwheel.Web.Tests.Journeys;

namespace Handwheel.Web.Tests.Features.PathView;

/// <summary>The bytes of a picture, read here by their description alone, against the path that the check follows.</summary>
public sealed class PathBytesTests
{
    static readonly Setup Plate = SetupFile.Read(SpacerPlate.SetupBytes, "spacer-plate.setup.json");

    sealed record Drawn(byte[] Bytes)
    {
        public int Word(int at) => BinaryPrimitives.ReadInt32LittleEndian(Bytes.AsSpan(4 * at));

        public int Points => Word(1);

        public int[] Column(int column) =>
            [.. Enumerable.Range(0, Points).Select(i => Word(9 + (column * Points) + i))];

        public float Last(int column) =>
            BinaryPrimitives.ReadSingleLittleEndian(Bytes.AsSpan(4 * (9 + (column * Points) + Points - 1)));
    }

    const int X = 0;
    const int Y = 1;
    const int Z = 2;
    const int Block = 3;
    const int Line = 4;
    const int Kind = 5;
    const int Tool = 6;
    const int Cut = 7;
    const int Rapid = 8;
    const int Seconds = 9;

    static BlockTrack Track(string program) => BlockTrack.Of(Encoding.UTF8.GetBytes(program), Plate, new());

    static Drawn Whole(BlockTrack track) => new(PathBytes.Whole(track, Units.Inch));

    /// <summary>Passes over a wavy face: many more segments than a picture of the whole has points.</summary>
    static string Surface(int moves)
    {
        var text = new StringBuilder("G20\nT1 M6\nG54 G0 X0 Y0\nG43 H1 Z1.\nG1 Z0 F20.\n");
        for (var i = 0; i < moves; i++)
            text.Append(
                CultureInfo.InvariantCulture,
                $"X{4 * Math.Abs(Math.Sin(i * 0.01)):0.####} Y{i * 0.00005:0.####} Z{-0.2 * Math.Abs(Math.Cos(i * 0.013)):0.####}\n"
            );
        return text.Append("G0 Z1.\nT2 M6\nG0 X9.\nG43 H2 Z2.\nM30").ToString();
    }

    [Fact]
    public void Every_segment_of_a_short_program_is_there_with_its_block_line_kind_and_tool()
    {
        var track = Track(string.Join('\n', SpacerPlate.Program));
        var drawn = Whole(track);
        Assert.Equal("HWP1", Encoding.ASCII.GetString(drawn.Bytes, 0, 4));
        Assert.Equal(drawn.Bytes.Length, 4 * (9 + (10 * drawn.Points)));
        Assert.Equal(
            (track.Path.Count, track.Blocks, track.Path.Count, 0, 0, 1),
            (drawn.Points, drawn.Word(4), drawn.Word(5), drawn.Word(6), drawn.Word(7), drawn.Word(8))
        );
        var tools = new List<int>();
        foreach (var run in track.Path.Runs.Reverse())
            tools.InsertRange(0, Enumerable.Repeat(run.Tool, track.Path.Count - run.First - tools.Count));
        Assert.Equal(tools, drawn.Column(Tool));
        for (var i = 0; i < drawn.Points; i++)
        {
            var segment = track.Path[i];
            Assert.Equal(
                (segment.X / 100, segment.Y / 100, segment.Z / 100, segment.Line, (int)segment.Kind),
                (
                    drawn.Column(X)[i],
                    drawn.Column(Y)[i],
                    drawn.Column(Z)[i],
                    drawn.Column(Line)[i],
                    drawn.Column(Kind)[i]
                )
            );
            var block = drawn.Column(Block)[i];
            Assert.InRange(i, track.Segments(block).Start.Value, track.Segments(block).End.Value - 1);
        }
    }

    [Fact]
    public void Ways_are_those_of_the_check_and_times_those_of_the_blocks()
    {
        var check = Check.Run(SpacerPlate.ProgramBytes, "spacer-plate.nc", Plate);
        var track = Track(string.Join('\n', SpacerPlate.Program));
        var drawn = Whole(track);
        Assert.Equal((double)check.Tools.Sum(t => t.CutDistance)!, drawn.Last(Cut), 3);
        Assert.Equal((double)check.Tools.Sum(t => t.RapidDistance)!, drawn.Last(Rapid), 3);
        Assert.Equal(Enumerable.Range(1, track.Blocks).Sum(b => (double)track.Seconds(b)), drawn.Last(Seconds), 3);
    }

    [Fact]
    public void A_long_program_is_an_outline_that_reaches_exactly_as_far()
    {
        var track = Track(Surface(60_000));
        var drawn = Whole(track);
        Assert.True(track.Path.Count > 60_000);
        Assert.InRange(drawn.Points, 5_000, 25_000);
        Assert.Equal((0, track.Path.Count), (drawn.Word(8), drawn.Word(5)));
        var all = Enumerable.Range(0, track.Path.Count).Select(i => track.Path[i]).ToList();
        foreach (
            var (column, of) in new (int, Func<PathSegment, long>)[] { (X, s => s.X), (Y, s => s.Y), (Z, s => s.Z) }
        )
            Assert.Equal(
                (all.Min(of) / 100, all.Max(of) / 100),
                (drawn.Column(column).Min(), (long)drawn.Column(column).Max())
            );
        // each tool in itself, too
        var second = drawn.Column(Tool).Index().Where(t => t.Item == 2).Select(t => drawn.Column(X)[t.Index]).ToList();
        var from = track.Path.Runs.First(r => r.Tool == 2).First;
        Assert.Equal(all[from..].Max(s => s.X) / 100, second.Max());
        // ways are of every segment, not of the few that are drawn
        var way = 0.0;
        for (var i = 1; i < all.Count; i++)
            if (all[i].Kind == PathKind.Cut)
                way += Math.Sqrt(
                    Square(all[i].X - all[i - 1].X) + Square(all[i].Y - all[i - 1].Y) + Square(all[i].Z - all[i - 1].Z)
                );
        Assert.Equal(way / 25.4e6, drawn.Last(Cut), 1e-3 * way / 25.4e6);
    }

    static double Square(double value) => value * value;

    [Theory]
    [InlineData(4)]
    [InlineData(30_000)]
    [InlineData(60_008)]
    public void Around_a_block_every_segment_is_there(int block)
    {
        var track = Track(Surface(60_000));
        var near = new Drawn(PathBytes.Near(track, Units.Inch, block));
        Assert.Equal(1, near.Word(8));
        Assert.InRange(block, near.Word(2), near.Word(3));
        Assert.InRange(near.Points, 5_000, 20_001);
        var blocks = near.Column(Block);
        for (var i = 1; i < near.Points; i++)
            Assert.InRange(blocks[i] - blocks[i - 1], 0, 3);
        var first = track.Segments(blocks[^1]).End.Value - (near.Points - 1);
        Assert.Equal(
            Enumerable.Range(first, near.Points - 1).Select(i => track.Path[i].X / 100),
            near.Column(X).Skip(1).Select(x => (long)x)
        );
    }

    [Fact]
    public void What_rests_on_a_register_that_is_not_given_is_left_out_and_counted()
    {
        var drawn = Whole(Track("T1 M6\nG54 G0 X0 Y0\nG43 H1 Z1.\nX1.\nG57 X0 Y0 Z1.\nX2.\nM30"));
        Assert.True(drawn.Word(6) > 0);
        Assert.DoesNotContain(6, drawn.Column(Line));
        Assert.Contains(4, drawn.Column(Line));
    }

    [Fact]
    public void A_guess_begins_where_the_check_stopped_knowing() =>
        Assert.Equal(4, Whole(Track("T1 M6\nG54 G0 X0 Y0\nG43 H1 Z1.\nM777\nX1.\nM30")).Word(7));

    [Fact]
    public void A_program_that_does_not_move_is_an_empty_picture() =>
        Assert.Equal((0, 2), (Whole(Track("M9\nM30")).Points, Whole(Track("M9\nM30")).Word(4)));
}
