using System.Diagnostics;

namespace Handwheel.Bench;

/// <summary>Milliseconds of a piece of work.</summary>
static class Timing
{
    /// <summary>The median of several runs, after enough of them that the code is compiled to its best.</summary>
    public static double Median(Action work, int runs, int warmUps = 8)
    {
        for (var i = 0; i < warmUps; i++)
            work();
        var times = new double[runs];
        for (var i = 0; i < runs; i++)
        {
            var start = Stopwatch.GetTimestamp();
            work();
            times[i] = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
        }
        Array.Sort(times);
        return runs % 2 == 1 ? times[runs / 2] : (times[runs / 2 - 1] + times[runs / 2]) / 2;
    }
}

/// <summary>One line that a script can read for each bar: <c>bar NAME MEASURED LIMIT ok|short</c>.</summary>
sealed class Bars
{
    readonly List<string> lines = [];

    public bool AllKept { get; private set; } = true;

    public void AtLeast(string name, double measured, double limit) => Add(name, measured, limit, measured >= limit);

    public void AtMost(string name, double measured, double limit) => Add(name, measured, limit, measured <= limit);

    public void Print() => lines.ForEach(Console.WriteLine);

    void Add(string name, double measured, double limit, bool kept)
    {
        AllKept &= kept;
        lines.Add(FormattableString.Invariant($"bar {name} {measured:0.##} {limit:0.##} {(kept ? "ok" : "short")}"));
    }
}
