using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.PathView;

namespace Handwheel.Bench;

/// <summary>
/// A program of a million segments, from its bytes to the bytes of its first picture: the check as a page asks for it, the path with its blocks,
/// the outline as it is served. What is not in it: the upload, the database, the browser that draws.
/// </summary>
static class PathBench
{
    /// <summary>Milliseconds.</summary>
    const double Limit = 2000;

    public static void Measure(Bars bars)
    {
        var setup = BenchSetup.Read();
        var program = Programs.Surfacing(25_000_000);
        var track = BlockTrack.Of(program, setup, new());
        var bytes = PathBytes.Whole(track, setup.Units).Length;
        var check = Timing.Median(() => GC.KeepAlive(Check.Run(program, "bench.nc", setup)), 3, 1);
        var path = Timing.Median(() => GC.KeepAlive(BlockTrack.Of(program, setup, new())), 5, 2);
        var served = Timing.Median(() => GC.KeepAlive(PathBytes.Whole(track, setup.Units)), 5, 2);
        var near = Timing.Median(() => GC.KeepAlive(PathBytes.Near(track, setup.Units, track.Blocks / 2)), 5, 2);
        var block = Timing.Median(
            () => GC.KeepAlive(BlockReadings.Follow(program, setup, new(), track.Blocks, raise: null)),
            5,
            2
        );
        Row("check", check);
        Row("path with its blocks", path);
        Row(FormattableString.Invariant($"outline, {bytes / 1000} kB"), served);
        Row("around one block", near);
        Row("figures of last block", block);
        bars.AtMost("milliseconds-to-first-picture", check + path + served, Limit);
        bars.AtLeast("segments-in-first-picture", track.Path.Count, 1_000_000);

        void Row(string what, double milliseconds) =>
            Console.WriteLine(
                FormattableString.Invariant(
                    $"{FormattableString.Invariant($"{track.Path.Count} segments"), -20} {what, -23} {milliseconds, 8:F2}"
                )
            );
    }
}
