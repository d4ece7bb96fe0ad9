namespace Handwheel.Nc;

public enum PathKind : byte
{
    /// <summary>Not a move: the path goes on from here.</summary>
    Jump,
    Rapid,
    Cut,
}

/// <summary>The end of one straight piece of the path; it begins where the one before ended. 16 bytes.</summary>
public readonly struct PathSegment
{
    /// <summary>nm in one step of the kept coordinates.</summary>
    public const int Step = 100;

    readonly int x;
    readonly int y;
    readonly int z;
    readonly uint lineAndKind;

    internal PathSegment(PathKind kind, int line, long x, long y, long z)
    {
        this.x = Steps(x);
        this.y = Steps(y);
        this.z = Steps(z);
        lineAndKind = ((uint)line << 2) | (uint)kind;
    }

    /// <summary>Setup space, nm, to the nearest 100 nm; as if the length offset in force were the tool's own.</summary>
    public long X => (long)x * Step;
    public long Y => (long)y * Step;
    public long Z => (long)z * Step;

    /// <summary>Line in the file of its run, from 1.</summary>
    public int Line => (int)(lineAndKind >> 2);
    public PathKind Kind => (PathKind)(lineAndKind & 3);

    static int Steps(long nanometres) =>
        (int)Math.Clamp((nanometres + (nanometres < 0 ? -Step / 2 : Step / 2)) / Step, int.MinValue, int.MaxValue);
}

/// <summary>Segments from <paramref name="First"/> on that have these in common.</summary>
/// <param name="Known">False: the path rests on a register that the setup does not give, and starts at that register's zero.</param>
public readonly record struct PathRun(int First, int File, int Tool, WorkOffsetName WorkOffset, bool Known);

/// <summary>
/// A program's path kept for drawing: 16 bytes a segment, arcs as chords that leave their circle by no more than the tolerance given.
/// Moves from or to a place that is not known are not kept.
/// </summary>
public sealed class KeptPath
{
    const int ChunkBits = 16;
    const int ChunkSize = 1 << ChunkBits;

    /// <summary>Points kept of each bucket when thinning: the extremes of three axes, and the last.</summary>
    const int PointsOfBucket = 7;

    readonly List<PathSegment[]> chunks = [];
    readonly List<PathRun> runs = [];

    public int Count { get; private set; }
    public IReadOnlyList<PathRun> Runs => runs;

    public PathSegment this[int index] => chunks[index >> ChunkBits][index & (ChunkSize - 1)];

    /// <summary>Follows the program and keeps its path. <paramref name="chordError"/> in nm.</summary>
    public static KeptPath Of(
        ReadOnlyMemory<byte> program,
        ControlSettings settings,
        RunOptions options,
        long chordError = 10_000
    )
    {
        var sink = new KeptPathSink(new(), chordError);
        Interpreter.Run(program, settings, options, ref sink);
        return sink.Path;
    }

    internal void Add(in PathSegment segment)
    {
        var at = Count & (ChunkSize - 1);
        if (at == 0)
            chunks.Add(new PathSegment[ChunkSize]);
        chunks[^1][at] = segment;
        Count++;
    }

    internal void Begin(in PathRun run)
    {
        if (runs.Count > 0 && runs[^1].First == run.First)
            runs[^1] = run;
        else
            runs.Add(run);
    }

    /// <summary>
    /// A path of about <paramref name="most"/> segments that reaches exactly as far in every axis: of each stretch of one kind the
    /// outermost points and the last stay. Jumps, runs and changes of kind stay too, so a path of many short stretches stays longer.
    /// </summary>
    public KeptPath Thin(int most)
    {
        if (Count <= most)
            return this;
        var thin = new KeptPath();
        var run = 0;
        foreach (var index in Outline(most))
        {
            while (run < runs.Count && runs[run].First <= index)
                thin.Begin(runs[run++] with { First = thin.Count });
            thin.Add(this[index]);
        }
        return thin;
    }

    /// <summary>Which segments <see cref="Thin"/> keeps, in order; all of them where there are no more than <paramref name="most"/>.</summary>
    public IReadOnlyList<int> Outline(int most)
    {
        if (Count <= most)
            return [.. Enumerable.Range(0, Count)];
        var outline = new List<int>(most);
        var bucket = Math.Max(1, (int)Math.Ceiling((double)Count * PointsOfBucket / most));
        Span<int> kept = stackalloc int[PointsOfBucket];
        var run = 0;
        for (var start = 0; start < Count; )
        {
            while (run < runs.Count && runs[run].First <= start)
                run++;
            var limit = Math.Min(start + bucket, run < runs.Count ? runs[run].First : Count);
            var end = StretchEnd(start, Math.Min(limit, Count));
            outline.AddRange(kept[..Outermost(start, end, kept)]);
            start = end;
        }
        return outline;
    }

    int StretchEnd(int start, int limit)
    {
        var kind = this[start].Kind;
        var end = start + 1;
        while (kind != PathKind.Jump && end < limit && this[end].Kind == kind)
            end++;
        return end;
    }

    /// <summary>Indexes of the extremes and the last of a stretch, in order and without repeats; how many there are.</summary>
    int Outermost(int start, int end, Span<int> kept)
    {
        kept.Fill(start);
        for (var i = start + 1; i < end; i++)
        {
            var point = this[i];
            if (point.X < this[kept[0]].X)
                kept[0] = i;
            if (point.X > this[kept[1]].X)
                kept[1] = i;
            if (point.Y < this[kept[2]].Y)
                kept[2] = i;
            if (point.Y > this[kept[3]].Y)
                kept[3] = i;
            if (point.Z < this[kept[4]].Z)
                kept[4] = i;
            if (point.Z > this[kept[5]].Z)
                kept[5] = i;
        }
        kept[6] = end - 1;
        kept.Sort();
        var count = 1;
        for (var i = 1; i < kept.Length; i++)
            if (kept[i] != kept[count - 1])
                kept[count++] = kept[i];
        return count;
    }
}
