using System.Runtime.CompilerServices;
using System.Text;
using CsCheck;
using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

public class KeptPathTests
{
    static KeptPath Path(string program, long chordError = 10_000) =>
        KeptPath.Of(Encoding.UTF8.GetBytes(program), MotionLog.Settings(Units.Millimetre), new(), chordError);

    static IEnumerable<PathSegment> Segments(KeptPath path) => Enumerable.Range(0, path.Count).Select(i => path[i]);

    static string Text(PathSegment s) =>
        FormattableString.Invariant($"{s.Kind} {s.Line}: {s.X / 1e6} {s.Y / 1e6} {s.Z / 1e6}");

    [Fact]
    public void A_segment_takes_sixteen_bytes() => Assert.Equal(16, Unsafe.SizeOf<PathSegment>());

    [Fact]
    public void The_path_knows_its_lines_its_tools_and_what_cuts()
    {
        var path = Path("T1 M6\nG0 X0 Y0\nZ1\nG1 Z-1 F9\nT2 M6\nG0 Z-2.5\nX4");
        Assert.Equal(
            [
                "Jump 3: 0 0 0",
                "Rapid 3: 0 0 1",
                "Cut 4: 0 0 -1",
                "Jump 6: 0 0 0",
                "Rapid 6: 0 0 -2.5",
                "Rapid 7: 4 0 -2.5",
            ],
            Segments(path).Select(Text)
        );
        Assert.Equal([(0, 1), (3, 2)], path.Runs.Select(r => (r.First, r.Tool)));
        Assert.All(path.Runs, r => Assert.True(r.Known));
    }

    [Fact]
    public void A_path_on_a_register_not_given_is_kept_and_said()
    {
        var path = Path("G54.1 P9 G0 X1 Y1 Z1\nX2\nG54 X0");
        Assert.Equal(["Jump 2: 1 1 1", "Rapid 2: 2 1 1"], Segments(path).Select(Text));
        Assert.False(Assert.Single(path.Runs).Known);
    }

    [Fact]
    public void The_length_offset_is_taken_off()
    {
        var settings = MotionLog.Settings(Units.Millimetre) with
        {
            LengthOffsets = new Dictionary<int, long> { [1] = 5_000_000 },
        };
        var path = KeptPath.Of("G0 X0 Y0 Z9\nG43 H1 Z1\nX2"u8.ToArray(), settings, new());
        Assert.Equal(["Jump 2: 0 0 4", "Rapid 2: 0 0 1", "Rapid 3: 2 0 1"], Segments(path).Select(Text));
    }

    [Fact]
    public void Chords_leave_their_circle_by_no_more_than_the_bound() =>
        Gen.Select(Gen.Int[1, 200], Gen.Int[1_000, 100_000])
            .Sample(
                (radius, bound) =>
                {
                    var path = Path($"G0 X{radius} Y0 Z0\nG3 I-{radius} Z3 F9", bound);
                    var points = Segments(path).Select(s => (X: (double)s.X, Y: (double)s.Y)).ToArray();
                    for (var i = 2; i < points.Length; i++)
                    {
                        var (x, y) = ((points[i].X + points[i - 1].X) / 2, (points[i].Y + points[i - 1].Y) / 2);
                        Assert.InRange(radius * 1e6 - Math.Sqrt(x * x + y * y), -200, bound + 200);
                    }
                    Assert.Equal((radius * 1e6, 0), points[^1]);
                },
                iter: 200
            );

    [Fact]
    public void A_thinned_path_reaches_exactly_as_far() =>
        Gen.Select(Gen.Int[-9999, 9999], Gen.Int[-9999, 9999], Gen.Int[-9999, 9999])
            .Array[200, 3_000]
            .Sample(
                points =>
                {
                    var program = new StringBuilder("T1 M6 G0 X0 Y0\nG1 F9 Z0\n");
                    foreach (var (x, y, z) in points)
                        program.Append(FormattableString.Invariant($"X{x / 100.0}Y{y / 100.0}Z{z / 100.0}\n"));
                    var path = Path(program.ToString());
                    var thin = path.Thin(100);
                    Assert.InRange(thin.Count, 1, 120);
                    Assert.Equal(Extremes(path), Extremes(thin));
                    Assert.Equal(path[path.Count - 1], thin[thin.Count - 1]);
                    Assert.Equal(path.Runs.Count, thin.Runs.Count);
                },
                iter: 100
            );

    static (long, long, long, long, long, long) Extremes(KeptPath path)
    {
        var all = Segments(path).ToArray();
        return (
            all.Min(s => s.X),
            all.Max(s => s.X),
            all.Min(s => s.Y),
            all.Max(s => s.Y),
            all.Min(s => s.Z),
            all.Max(s => s.Z)
        );
    }

    [Fact]
    public void Two_sinks_hear_the_same()
    {
        var program = "T1 M6\nG0 X1 Y1 Z1 S9 M3\nG2 I1 F9\nG4 P1\nG92 X0\nG10 L2 P1 X1\nG12\nM30"u8.ToArray();
        var settings = MotionLog.Settings();
        var both = new BothSinks<LogSink, LogSink>(new(new(Units.Inch)), new(new(Units.Inch)));
        Interpreter.Run(program, settings, new(), ref both);
        var alone = MotionLog.Of(program, settings).Events;
        Assert.Equal(alone, both.First.Log.Events);
        Assert.Equal(alone, both.Second.Log.Events);
    }
}
