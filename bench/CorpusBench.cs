using Handwheel.Jobs.Checking;
using Handwheel.Tests.Jobs.Checking;

namespace Handwheel.Bench;

/// <summary>Hazards found of those planted, and false alarms on clean programs: counts, no times.</summary>
static class CorpusBench
{
    public static void Measure(Bars bars)
    {
        var found = Corpus.Planted.Count(p => Findings(p).Any(f => f.Id == p.Hazard));
        var clean = Corpus.Clean.Select(p => (Program: p, Findings: Findings(p))).ToList();
        var lines = clean.Sum(c => c.Program.Program.Count(letter => letter == '\n') + 1);
        var stops = clean.Sum(c => c.Findings.Count(f => f.Level == Level.Stop));
        var checks = clean.Sum(c => c.Findings.Count(f => f.Level == Level.Check));
        Console.WriteLine(
            $"corpus: {found} of {Corpus.Planted.Count} planted hazards found; {stops} stops and {checks} checks on {Corpus.Clean.Count} clean programs of {lines} lines"
        );
        bars.AtLeast("hazards-found-percent", 100.0 * found / Corpus.Planted.Count, 100);
        bars.AtMost("stops-on-clean-programs", stops, 0);
    }

    static IReadOnlyList<Finding> Findings(CorpusProgram program) =>
        Setups.Run(program.Program, program.Setup).Findings;
}
