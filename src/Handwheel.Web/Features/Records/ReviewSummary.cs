using System.Globalization;
using Handwheel.Jobs.Proving;

namespace Handwheel.Web.Features.Records;

/// <summary>One thing that a reviewer should have seen.</summary>
/// <param name="Entry">Its number in the chain.</param>
public sealed record ReviewLine(long Entry, string Text);

/// <summary>Lines of one kind; none: nothing of that kind happened.</summary>
public sealed record ReviewPart(string Title, IReadOnlyList<ReviewLine> Lines);

/// <summary>What was out of the ordinary in a prove-out, for the person who signs it as reviewed. It shows what was typed.</summary>
public static class ReviewSummary
{
    const int MostLate = 5;

    /// <param name="titleOf">Names the step that an act is about.</param>
    public static IReadOnlyList<ReviewPart> Of(ProveOut proveOut, Func<Act, string> titleOf)
    {
        var entries = Counting(proveOut);
        return
        [
            new("Readings that were wrong at first or not blind", Retries(proveOut.Tries)),
            Part("Differences, and how they were settled", a => a is Differs or DifferenceSettled or BaselineDecided),
            new("First piece out of its limits", OutOfLimits(proveOut, entries)),
            new("Corrections", [.. proveOut.Corrections.Select(c => new ReviewLine(c.Entry, Words(c)))]),
            Part("Deviations", a => a is DeviationSigned or OtherWaySigned or CutShort),
            Part("Interruptions", a => a is Interrupted),
            Part("Edits at the machine", a => a is EditNoted),
            Part(
                "Changes",
                a =>
                    a
                        is ProgramChanged
                            or SetupChanged
                            or LengthChanged
                            or BaselineChanged
                            or HoldingChanged
                            or ToolReplaced
                            or RaiseChosen
                            or TakenBack
                            or SentBack
            ),
            new(
                "Recorded on a tablet without connection",
                [
                    .. entries
                        .Where(e => e.Kept is not null)
                        .Select(e => new ReviewLine(
                            e.Number,
                            $"{ActWords.Of(e.Act, titleOf(e.Act), typed: true)} ({e.By.Name}): {e.Kept!.Words(e.At)}"
                        )),
                ]
            ),
            Part("Handoffs", a => a is HandedOver or HandoffWithdrawn or TakingOverAlone or TookOver or LockoutLifted),
            new(
                "Steps entered closer together than a person can look",
                [.. Pace.Quick(proveOut).Select(q => new ReviewLine(q.Entry, Words(q)))]
            ),
            new(
                "Steps that came long after the one before",
                [
                    .. Pace.Late(proveOut, MostLate)
                        .Select(s => new ReviewLine(s.Entry, $"{s.Title}: {Minutes(s.After)} after the entry before")),
                ]
            ),
        ];

        ReviewPart Part(string title, Func<Act, bool> takes) =>
            new(
                title,
                [
                    .. entries
                        .Where(e => takes(e.Act))
                        .Select(e => new ReviewLine(
                            e.Number,
                            $"{ActWords.Of(e.Act, titleOf(e.Act), typed: true)} ({e.By.Name})"
                        )),
                ]
            );
    }

    /// <summary>Entries that the rules took.</summary>
    static List<Entry> Counting(ProveOut proveOut)
    {
        var not = proveOut.Unexplained.Select(u => u.Entry).ToHashSet();
        return [.. proveOut.Entries.Where(e => !not.Contains(e.Number))];
    }

    /// <summary>All tries of each step that has one wrong or not blind.</summary>
    static IReadOnlyList<ReviewLine> Retries(IReadOnlyList<TypedTry> tries)
    {
        var retried = tries.Where(t => !t.Right || t.NotBlind).Select(t => t.Step).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. tries
                .Where(t => retried.Contains(t.Step))
                .OrderBy(t => t.Title, StringComparer.Ordinal)
                .ThenBy(t => t.Entry)
                .Select(t => new ReviewLine(
                    t.Entry,
                    $"{t.Title}: {t.Typed}, {(t.Right ? "right" : "not right")}{(t.NotBlind ? ", not blind" : "")}"
                )),
        ];
    }

    /// <summary>Each measurement that was out; and where the next one was in without a correction in between, that too.</summary>
    static IReadOnlyList<ReviewLine> OutOfLimits(ProveOut proveOut, List<Entry> entries)
    {
        var lines = new List<ReviewLine>();
        foreach (var notes in proveOut.FirstPiece.GroupBy(n => n.Characteristic))
        {
            FirstPieceNote? before = null;
            foreach (var note in notes)
            {
                var typed = entries.Find(e => e.Number == note.Entry) is { Act: FirstPieceMeasured act }
                    ? act.Typed
                    : "";
                if (note.In == false)
                    lines.Add(new(note.Entry, $"{notes.Key.Name}: {typed}, out. {note.Words}".TrimEnd()));
                else if (note.In == true && before?.In == false)
                    lines.Add(
                        new(
                            note.Entry,
                            $"{notes.Key.Name}: {typed}, in, and no correction was recorded since it was out"
                        )
                    );
                before = note;
            }
        }
        return [.. lines.OrderBy(l => l.Entry)];
    }

    static string Words(QuickCard card) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{card.Card}, {card.Phase}: {card.Quick} steps less than {Pace.Look.TotalSeconds:0} s after the step before. Look at what this card asks for."
        );

    static string Minutes(TimeSpan time) =>
        time.TotalMinutes < 60
            ? string.Create(CultureInfo.InvariantCulture, $"{(int)time.TotalMinutes} min")
            : string.Create(CultureInfo.InvariantCulture, $"{(int)time.TotalHours} h {time.Minutes:00} min");

    static string Words(CorrectionMade made) =>
        $"{made.Title}: worked out: {made.WorkedOut?.Words ?? "nothing"} Typed: {made.Register} {made.Typed}{(made.Why.Length > 0 ? ", because " + made.Why : "")}";
}
