using System.Globalization;
using Handwheel.Jobs.Findings;

namespace Handwheel.Jobs.Checking;

/// <summary>
/// Collects findings: one cause, one finding, with the first place and a count of the rest. Past
/// <see cref="CausesMost"/> causes of a rule the rest is only counted.
/// </summary>
sealed class FindingBook(ProgramTexts texts)
{
    const int CausesMost = 100;
    const int LinesMost = 8;

    readonly Dictionary<(RuleInfo Rule, long Cause), Entry> entries = [];
    readonly Dictionary<RuleInfo, Tally> tallies = [];
    readonly Dictionary<string, long> causes = new(StringComparer.Ordinal);

    /// <summary>A number for a cause that is told by words.</summary>
    public long Cause(string words)
    {
        if (!causes.TryGetValue(words, out var number))
        {
            if (causes.Count > 10_000)
                return -1;
            causes[words] = number = causes.Count + 1;
        }
        return number;
    }

    /// <summary>True when the rule has already spoken of this cause: the place is counted, no message is needed.</summary>
    public bool Again(RuleInfo rule, long cause, int line)
    {
        if (entries.TryGetValue((rule, cause), out var entry))
        {
            entry.Count(line);
            return true;
        }
        if (!tallies.TryGetValue(rule, out var tally) || tally.Causes < CausesMost)
            return false;
        tally.Beyond++;
        return true;
    }

    public void Add(RuleInfo rule, long cause, Where at, string message, string remedy, Level? level = null)
    {
        if (Again(rule, cause, at.Line))
            return;
        var entry = new Entry(rule, level ?? rule.Level, at, message, remedy);
        entries[(rule, cause)] = entry;
        if (!tallies.TryGetValue(rule, out var tally))
            tallies[rule] = tally = new Tally();
        tally.Causes++;
        tally.Last = entry;
    }

    /// <summary>In order of file (the main program first), line, then id.</summary>
    public IReadOnlyList<Finding> InOrder() =>
        [
            .. entries
                .Values.OrderBy(e => e.At.File)
                .ThenBy(e => e.At.Line)
                .ThenBy(e => e.Rule.Id, StringComparer.Ordinal)
                .Select(e => e.ToFinding(texts, tallies[e.Rule])),
        ];

    sealed class Tally
    {
        public int Causes;
        public long Beyond;
        public Entry? Last;
    }

    sealed class Entry(RuleInfo rule, Level level, Where at, string message, string remedy)
    {
        readonly List<int> lines = [];
        long more;
        int last = at.Line;

        public RuleInfo Rule => rule;
        public Where At => at;

        /// <summary>Several moves of one block count once.</summary>
        public void Count(int line)
        {
            if (line == last)
                return;
            last = line;
            more++;
            if (lines.Count <= LinesMost && line != at.Line && !lines.Contains(line))
                lines.Add(line);
        }

        public Finding ToFinding(ProgramTexts texts, Tally tally) =>
            new()
            {
                Id = rule.Id,
                Level = level,
                Line = at.Line,
                File = texts.FileName(at),
                Block = texts.Block(at),
                Tool = at.Tool > 0 ? at.Tool : null,
                Message = message + More() + (tally.Beyond > 0 && tally.Last == this ? Beyond(tally.Beyond) : ""),
                Remedy = remedy,
            };

        string More()
        {
            if (more == 0)
                return "";
            var text = string.Create(CultureInfo.InvariantCulture, $" And {more} more like it");
            if (lines.Count == 0)
                return text + " at this line.";
            var listed = string.Join(", ", lines.Take(LinesMost).Select(l => l.ToString(CultureInfo.InvariantCulture)));
            return $"{text}, {(lines.Count == 1 ? "line" : "lines")} {listed}{(lines.Count > LinesMost ? " …" : "")}.";
        }

        static string Beyond(long count) =>
            string.Create(CultureInfo.InvariantCulture, $" {count} more of this kind are not listed.");
    }
}
