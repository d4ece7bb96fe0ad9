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

    /// <summary>How often anything has been said or counted.</summary>
    public long Spoken { get; private set; }

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
    public bool Again(RuleInfo rule, long cause, int file, int line)
    {
        if (entries.TryGetValue((rule, cause), out var entry))
        {
            entry.Count((file, line));
            Spoken++;
            return true;
        }
        if (!tallies.TryGetValue(rule, out var tally) || tally.Causes < CausesMost)
            return false;
        tally.Beyond++;
        Spoken++;
        return true;
    }

    public void Add(RuleInfo rule, long cause, Where at, string message, string remedy, Level? level = null)
    {
        if (Again(rule, cause, at.File, at.Line))
            return;
        var entry = new Entry(rule, level ?? rule.Level, at, message, remedy);
        entries[(rule, cause)] = entry;
        if (!tallies.TryGetValue(rule, out var tally))
            tallies[rule] = tally = new Tally();
        tally.Causes++;
        tally.Last = entry;
        Spoken++;
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
        readonly List<(int File, int Line)> places = [];
        long more;
        (int File, int Line) last = (at.File, at.Line);

        public RuleInfo Rule => rule;
        public Where At => at;

        /// <summary>Several moves of one block count once.</summary>
        public void Count((int File, int Line) place)
        {
            if (place == last)
                return;
            last = place;
            more++;
            if (places.Count <= LinesMost && place != (at.File, at.Line) && !places.Contains(place))
                places.Add(place);
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
                Message =
                    tally.Beyond > 0 && tally.Last == this ? Beyond(WithMore(texts), tally.Beyond) : WithMore(texts),
                Remedy = remedy,
            };

        /// <summary>By place, the main program first; the file is named where it is not the finding's own.</summary>
        string WithMore(ProgramTexts texts)
        {
            if (more == 0)
                return message;
            var count = Figures.Whole(more);
            if (places.Count == 0)
                return Said.Kept($"{message} And {count} more like it at this line.");
            var listed = string.Join(
                "; ",
                places
                    .Take(LinesMost)
                    .Order()
                    .GroupBy(p => p.File)
                    .Select(file => Listed([.. file.Select(p => p.Line)], Of(texts, file.Key)))
            );
            return places.Count > LinesMost
                ? Said.Kept($"{message} And {count} more like it, {listed} ….")
                : Said.Kept($"{message} And {count} more like it, {listed}.");
        }

        static string Listed(List<int> lines, string? of)
        {
            var all = string.Join(", ", lines.Select(l => Figures.Whole(l)));
            return (lines.Count, of) switch
            {
                (1, null) => Said.Kept($"line {all}"),
                (1, _) => Said.Kept($"line {all} of {of}"),
                (_, null) => Said.Kept($"lines {all}"),
                _ => Said.Kept($"lines {all} of {of}"),
            };
        }

        /// <summary>Null: the finding's own file.</summary>
        string? Of(ProgramTexts texts, int file) =>
            file == at.File ? null : texts.FileName(at with { File = file }) ?? Said.Kept("the main program");

        static string Beyond(string text, long count) =>
            Said.Kept($"{text} {Figures.Whole(count)} more of this kind are not listed.");
    }
}
