using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Handwheel.Jobs.Checking;
using Handwheel.Nc;

namespace Handwheel.Web.Features.PathView;

/// <summary>
/// A path for a page's picture: little-endian, a head of <see cref="HeadWords"/> words of 4 bytes, then one column after the other with a word for
/// each point. <c>path/geometry.js</c> reads it.
/// <list type="bullet">
/// <item>Head: mark, points, first and last block drawn, blocks of the program, segments of the program, segments left out because they rest on a
/// register that the setup does not give, first guessed block (0: none), 1 where every segment of these blocks is there.</item>
/// <item>Columns: X, Y, Z (steps of 100 nm, setup space, the tip); block; line; kind (0 go on from here, 1 rapid, 2 cut) + 256 × file; tool;
/// way cut and way in rapid up to here (float, the setup's units); seconds up to here (float, at the programmed feeds).</item>
/// </list>
/// </summary>
public static class PathBytes
{
    public const int HeadWords = 9;
    public const int Columns = 10;

    /// <summary>"HWP1".</summary>
    const int Mark = 0x31505748;

    /// <summary>Points of the whole path at most, about: of each stretch the outermost stay, so that it reaches exactly as far.</summary>
    public const int PointsOfWhole = 20_000;

    /// <summary>Points around one block at most, about; they are all that there are.</summary>
    public const int PointsNear = 20_000;

    /// <summary>A path of very many short stretches does not get thinner; what is beyond is left to the view around a block.</summary>
    const int PointsMost = 400_000;

    public static byte[] Whole(BlockTrack track, Units units) =>
        Write(track, units, track.Path.Outline(PointsOfWhole), track.Path.Count <= PointsOfWhole);

    /// <summary>All segments of the blocks around one.</summary>
    public static byte[] Near(BlockTrack track, Units units, int block)
    {
        if (track.Path.Count == 0)
            return Write(track, units, [], complete: true);
        var here = track.Segments(Math.Clamp(block, 1, track.Blocks));
        var from = Math.Max(0, Math.Min(here.Start.Value, track.Path.Count - 1) - (PointsNear / 2));
        var to = Math.Min(track.Path.Count, Math.Max(here.End.Value, from + PointsNear));
        return Write(track, units, [.. Enumerable.Range(from, to - from)], complete: true);
    }

    static byte[] Write(BlockTrack track, Units units, IReadOnlyList<int> indexes, bool complete)
    {
        var rows = new Rows(track, units, indexes.Count > PointsMost ? [.. indexes.Take(PointsMost)] : indexes);
        rows.Fill();
        var bytes = new byte[4 * (HeadWords + (Columns * rows.Count))];
        var head = MemoryMarshal.Cast<byte, int>(bytes.AsSpan());
        int[] words =
        [
            Mark,
            rows.Count,
            rows.Count > 0 ? rows.Block[0] : 0,
            rows.Count > 0 ? rows.Block[rows.Count - 1] : 0,
            track.Blocks,
            track.Path.Count,
            LeftOut(track.Path),
            track.GuessedFrom ?? 0,
            complete && indexes.Count <= PointsMost ? 1 : 0,
        ];
        words.CopyTo(head);
        var at = HeadWords;
        foreach (var column in (int[][])[rows.X, rows.Y, rows.Z, rows.Block, rows.Line, rows.Kind, rows.Tool])
        {
            column.AsSpan(0, rows.Count).CopyTo(head[at..]);
            at += rows.Count;
        }
        foreach (var column in (float[][])[rows.Cut, rows.Rapid, rows.Seconds])
        {
            MemoryMarshal.Cast<float, int>(column.AsSpan(0, rows.Count)).CopyTo(head[at..]);
            at += rows.Count;
        }
        if (!BitConverter.IsLittleEndian)
            BinaryPrimitives.ReverseEndianness(head, head);
        return bytes;
    }

    static int LeftOut(KeptPath path)
    {
        var left = 0;
        for (var run = 0; run < path.Runs.Count; run++)
            if (!path.Runs[run].Known)
                left += (run + 1 < path.Runs.Count ? path.Runs[run + 1].First : path.Count) - path.Runs[run].First;
        return left;
    }

    /// <summary>The columns of some segments, with what was gone through before each of them.</summary>
    sealed class Rows(BlockTrack track, Units units, IReadOnlyList<int> indexes)
    {
        readonly double unit = units.Nanometres();
        double cut;
        double rapid;
        double seconds;

        public int Count { get; private set; }
        public int[] X { get; } = new int[indexes.Count];
        public int[] Y { get; } = new int[indexes.Count];
        public int[] Z { get; } = new int[indexes.Count];
        public int[] Block { get; } = new int[indexes.Count];
        public int[] Line { get; } = new int[indexes.Count];
        public int[] Kind { get; } = new int[indexes.Count];
        public int[] Tool { get; } = new int[indexes.Count];
        public float[] Cut { get; } = new float[indexes.Count];
        public float[] Rapid { get; } = new float[indexes.Count];
        public float[] Seconds { get; } = new float[indexes.Count];

        /// <summary>The whole path is gone through in order, so that ways and times are of all segments and not of the drawn ones.</summary>
        public void Fill()
        {
            var next = 0;
            var run = 0;
            for (var block = 1; block <= track.Blocks && next < indexes.Count; block++)
            {
                var segments = track.Segments(block);
                var (first, end) = (segments.Start.Value, segments.End.Value);
                var length = end - first > 1 ? LengthOf(first, end) : 0;
                var before = seconds;
                for (var i = first; i < end && next < indexes.Count; i++)
                {
                    var way = Go(i);
                    if (length > 0)
                        seconds += track.Seconds(block) * way / length;
                    else if (i == end - 1)
                        seconds = before + track.Seconds(block);
                    while (run + 1 < track.Path.Runs.Count && track.Path.Runs[run + 1].First <= i)
                        run++;
                    if (indexes[next] != i)
                        continue;
                    next++;
                    if (track.Path.Runs[run].Known)
                        Add(i, block, track.Path.Runs[run], starts: next == 1);
                }
            }
        }

        double LengthOf(int first, int end)
        {
            var length = 0.0;
            for (var i = first; i < end; i++)
                length += Way(i);
            return length;
        }

        double Go(int index)
        {
            var way = Way(index);
            if (track.Path[index].Kind == PathKind.Cut)
                cut += way;
            else
                rapid += way;
            return way;
        }

        double Way(int index)
        {
            var to = track.Path[index];
            if (index == 0 || to.Kind == PathKind.Jump)
                return 0;
            var from = track.Path[index - 1];
            var (x, y, z) = ((to.X - from.X) / unit, (to.Y - from.Y) / unit, (to.Z - from.Z) / unit);
            return Math.Sqrt((x * x) + (y * y) + (z * z));
        }

        void Add(int index, int block, in PathRun run, bool starts)
        {
            var segment = track.Path[index];
            X[Count] = (int)(segment.X / PathSegment.Step);
            Y[Count] = (int)(segment.Y / PathSegment.Step);
            Z[Count] = (int)(segment.Z / PathSegment.Step);
            Block[Count] = block;
            Line[Count] = segment.Line;
            Kind[Count] = (starts ? 0 : (int)segment.Kind) + (256 * run.File);
            Tool[Count] = run.Tool;
            Cut[Count] = (float)cut;
            Rapid[Count] = (float)rapid;
            Seconds[Count] = (float)seconds;
            Count++;
        }
    }
}
