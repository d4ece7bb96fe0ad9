using System.Globalization;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Proving;

namespace Handwheel.Web.Features.Floor;

/// <summary>
/// What the system knows of each heading of a handoff: stands as it is, and the outgoing person adds to it. A heading it
/// knows nothing of stays blank, so that somebody has to write there; where it knows of nothing it says <see cref="None"/>,
/// which can be written over.
/// </summary>
public static class HandoffFacts
{
    public const string None = "none";

    /// <summary>The facts of a heading that the outgoing person cannot take away.</summary>
    public static bool Stand(string? known) => known is { Length: > 0 } and not None;

    public static IReadOnlyDictionary<string, string> Of(
        ProveOut proveOut,
        IReadOnlyList<Entry> entries,
        Func<DateTimeOffset, string> clock
    )
    {
        var steps = proveOut.Steps;
        return new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["locked-out"] = proveOut.LockedOut?.Words ?? "",
            ["odd"] = Notes(entries),
            ["raised"] = Raised(proveOut, clock),
            ["half-cut"] = HalfCut(steps),
            ["tools"] = Tools(proveOut.Plan, steps),
            ["steps"] = Steps(steps),
            ["findings"] = Findings(proveOut.Plan),
            ["edits"] = Edits(entries),
            ["next"] = StepWords.NextOf(proveOut) is { } next ? $"{StepWords.Of(next.Phase)}: {next.Title}" : None,
        };
    }

    static string Raised(ProveOut proveOut, Func<DateTimeOffset, string> clock) =>
        Lines(
            proveOut
                .Ledger.Hazards.Select(h => Said.In($"{h.Text}, read {clock(h.LastRead.At)} by {h.LastRead.By.Name}"))
                .Concat(
                    proveOut.RaisesLost.Select(l =>
                        Said.In($"{l.Why}, read {clock(l.LastRead.At)} by {l.LastRead.By.Name}")
                    )
                )
        );

    static string HalfCut(IReadOnlyList<StepView> steps)
    {
        var cut = steps.Where(s => s.Phase is Phase.FirstCut && s.Takes is not Takes.Nothing).ToList();
        var done = cut.Where(s => s.Settled()).ToList();
        return done.Count == 0 ? None
            : done.Count == cut.Count ? ""
            : Said.In("First cut begun: ") + string.Join(", ", done.Select(s => s.Card).Distinct()) + Said.In(" done");
    }

    static string Tools(ProveOutPlan plan, IReadOnlyList<StepView> steps) =>
        Lines(
            plan.Tools.DistinctBy(t => t.Tool)
                .Select(t =>
                {
                    var card = "T" + t.Key;
                    var ready = steps.Where(s => s.Phase is Phase.Ready && s.Card == card).ToList();
                    var pocket = t.Pocket is { } p ? Said.In($" in pocket {p}") : "";
                    var state =
                        ready.Count == 0 ? Said.In("not asked for")
                        : ready.All(s => s.Settled()) ? Said.In("measured")
                        : Said.In("not measured");
                    return $"{card}{pocket}: {state}";
                })
        );

    static string Steps(IReadOnlyList<StepView> steps)
    {
        var lines = new List<string>();
        foreach (var phase in steps.GroupBy(s => s.Phase).Where(p => p.Key is not (Phase.Parking or Phase.ReadBack)))
        {
            var done = phase.Count(s => s.Settled());
            if (done > 0)
                lines.Add(
                    done == phase.Count()
                        ? Said.In($"{StepWords.Of(phase.Key)}: done")
                        : Said.In($"{StepWords.Of(phase.Key)}: {done} of {phase.Count()} done")
                );
        }
        lines.AddRange(
            steps
                .Where(s => s.State is StepState.Held or StepState.ReadAgain or StepState.Refused)
                .Select(s => Said.In($"Half done: {s.Title} ({StepWords.Of(s.State)})"))
        );
        return Lines(lines);
    }

    static string Findings(ProveOutPlan plan) =>
        Lines(plan.Findings.Select(f => $"{LevelWord(f.Level)}: {string.Join(" ", f.Messages.Select(Said.Again))}"));

    static string LevelWord(Level level) =>
        level switch
        {
            Level.Stop => Said.In("stop"),
            Level.Check => Said.In("check"),
            _ => Said.In("note"),
        };

    /// <summary>What was noted since the machine was last taken over; blank where nothing was: somebody has to say so.</summary>
    static string Notes(IReadOnlyList<Entry> entries) =>
        string.Join(
            '\n',
            entries
                .Skip(entries.ToList().FindLastIndex(e => e.Act is TookOver) + 1)
                .Where(e => e.Act is Note { Corrects: null })
                .Select(e => Said.In($"{((Note)e.Act).Text.ReplaceLineEndings(" ")} (noted by {e.By.Name})"))
        );

    static string Edits(IReadOnlyList<Entry> entries) =>
        Lines(
            entries
                .Select(e => e.Act)
                .OfType<EditNoted>()
                .Select(e => Said.In($"Line {e.Line}: {e.Old} → {e.New} ({e.Why})"))
        );

    /// <summary>Each line as it is recorded, and how it is said on this tablet.</summary>
    public static IReadOnlyDictionary<string, string> InWords(
        IReadOnlyDictionary<string, string> recorded,
        IReadOnlyDictionary<string, string> said
    )
    {
        var lines = new Dictionary<string, string>(StringComparer.Ordinal) { [None] = Said.In("none") };
        foreach (var (heading, words) in recorded)
        foreach (var (line, shown) in words.Split('\n').Zip(said[heading].Split('\n')))
            lines.TryAdd(line, shown);
        return lines;
    }

    static string Lines(IEnumerable<string> lines)
    {
        var all = string.Join('\n', lines);
        return all.Length == 0 ? None : all;
    }
}
