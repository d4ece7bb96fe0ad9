using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>A kept path as runs to draw. Where the path rests on a register that the setup does not give, it is left out.</summary>
public static class TipPath
{
    /// <summary>About as many segments as a picture of a page or a window can show.</summary>
    const int SegmentsDrawn = 60_000;

    /// <param name="options">As the check that the picture stands beside was made with.</param>
    public static IReadOnlyList<TipRun> Of(ReadOnlyMemory<byte> program, Setup setup, RunOptions? options = null) =>
        Of(KeptPath.Of(program, SettingsOf.Control(setup), options ?? new RunOptions()), setup.Units);

    public static IReadOnlyList<TipRun> Of(KeptPath path, Units units)
    {
        var thin = path.Thin(SegmentsDrawn);
        var drawn = new List<TipRun>();
        for (var i = 0; i < thin.Runs.Count; i++)
        {
            var end = i + 1 < thin.Runs.Count ? thin.Runs[i + 1].First : thin.Count;
            if (thin.Runs[i].Known)
                Add(thin, thin.Runs[i], end, units.Nanometres(), drawn);
        }
        return drawn;
    }

    static void Add(KeptPath path, PathRun run, int end, double unit, List<TipRun> drawn)
    {
        var from = run.First > 0 ? At(path[run.First - 1], unit) : (Place3?)null;
        var tip = new List<Place3>();
        var kind = PathKind.Jump;
        for (var i = run.First; i < end; i++)
        {
            var segment = path[i];
            if (segment.Kind != kind)
            {
                Close();
                kind = segment.Kind;
            }
            var to = At(segment, unit);
            if (kind != PathKind.Jump && tip.Count == 0 && from is { } start)
                tip.Add(start);
            if (kind != PathKind.Jump)
                tip.Add(to);
            from = to;
        }
        Close();

        void Close()
        {
            if (tip.Count > 1)
                drawn.Add(new(run.Tool, kind == PathKind.Rapid, tip));
            tip = [];
        }
    }

    static Place3 At(in PathSegment segment, double unit) => new(segment.X / unit, segment.Y / unit, segment.Z / unit);
}
