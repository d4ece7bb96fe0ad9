using System.Text.Json.Nodes;
using Handwheel.Jobs.Motions;
using Handwheel.Jobs.Proving;
using Handwheel.Nc;

namespace Handwheel.Jobs.Records;

/// <summary>The parts of a record that people read: drawn from the entries, which stay the evidence.</summary>
static class RecordSummary
{
    public static string Text(Standing standing) =>
        standing switch
        {
            Standing.Released => "released",
            Standing.Abandoned => "abandoned",
            Standing.HandoffOpen => "handoff open",
            Standing.NotBegun => "not begun",
            _ => "under way",
        };

    public static JsonObject Proved(ProveOut proveOut, RecordOf about) =>
        new()
        {
            ["plan"] = proveOut.Plan.Digest,
            ["programs"] = Programs(proveOut.Plan),
            ["begunWith"] = Programs(First(proveOut.Plan)),
            ["setupSha256"] = proveOut.Plan.Subject.SetupSha256,
            ["checkSha256"] = proveOut.Plan.Subject.CheckSha256,
            ["check"] = about.CheckSummary,
            ["purpose"] = proveOut.Plan.Subject.Purpose == Purpose.Prove ? "prove" : "set up again",
            ["raise"] = proveOut.Raise,
            ["rules"] = List(
                (proveOut.Plan.Rules.Versions ?? []).Select(v => new JsonObject
                {
                    ["for"] = v.For,
                    ["version"] = v.Number,
                    ["sha256"] = v.Sha256,
                })
            ),
            ["provedBefore"] = ProvedBefore(proveOut.Plan.Subject.ProvedBefore),
        };

    static JsonObject? ProvedBefore(ProvedBefore? before) =>
        before is null
            ? null
            : new()
            {
                ["log"] = before.ProveOut.ToString(),
                ["job"] = before.Job,
                ["machine"] = before.Machine,
                ["released"] = RecordDocument.Time(before.Released),
                ["differences"] = List(
                    before.Differences.Select(d => new JsonObject
                    {
                        ["what"] = d.What,
                        ["was"] = d.Was,
                        ["now"] = d.Now,
                        ["means"] = d.Means,
                    })
                ),
            };

    static ProveOutPlan First(ProveOutPlan plan) => plan.Previous is { } before ? First(before) : plan;

    static JsonArray Programs(ProveOutPlan plan) =>
        List(
            plan.Subject.Programs.Select(p => new JsonObject
            {
                ["name"] = p.Name,
                ["number"] = p.Number,
                ["sha256"] = p.Sha256,
            })
        );

    public static JsonArray People(IReadOnlyList<Entry> entries) =>
        List(
            entries
                .Select(e => e.By)
                .Distinct()
                .Select(a => new JsonObject
                {
                    ["person"] = a.Person.ToString(),
                    ["name"] = a.Name,
                    ["roles"] = a.Roles.ToString().ToLowerInvariant(),
                })
        );

    public static JsonArray Steps(ProveOut proveOut) =>
        List(
            proveOut.Steps.Select(s => new JsonObject
            {
                ["step"] = s.Id,
                ["phase"] = StepTable.PhaseName(s.Phase),
                ["card"] = s.Card,
                ["title"] = s.Title,
                ["standardTitle"] = s.Standard,
                ["state"] = StateText(s.State),
                ["typed"] = s.Typed,
                ["unit"] = s.Unit,
                ["notBlind"] = s.NotBlind,
                ["attempts"] = s.Attempts,
                ["says"] = s.Says,
                ["limits"] = s.Takes == Takes.Measurement ? s.Shows : null,
                ["by"] = s.By?.Name,
                ["at"] = s.By is { } by ? RecordDocument.Time(by.At) : null,
                ["entry"] = s.By?.Entry,
            })
        );

    public static JsonArray Deviations(ProveOut proveOut) =>
        List(
            proveOut
                .Entries.Where(e => e.Act is DeviationSigned or OtherWaySigned or CutShort)
                .Select(e =>
                    By(
                        e,
                        new()
                        {
                            ["step"] = e.Act.About ?? "air-cut.other-way",
                            ["reason"] = e.Act switch
                            {
                                DeviationSigned d => d.Reason,
                                OtherWaySigned o => o.Reason,
                                CutShort c => $"cut short at line {c.Line}: {c.Why}",
                                _ => "",
                            },
                        }
                    )
                )
        );

    public static JsonArray Edits(IReadOnlyList<Entry> entries) =>
        List(
            entries
                .Where(e => e.Act is EditNoted)
                .Select(e => (Entry: e, Edit: (EditNoted)e.Act))
                .Select(e =>
                    By(
                        e.Entry,
                        new()
                        {
                            ["line"] = e.Edit.Line,
                            ["old"] = e.Edit.Old,
                            ["new"] = e.Edit.New,
                            ["why"] = e.Edit.Why,
                        }
                    )
                )
        );

    /// <summary>Changes of program and setup, with what the machine does differently, tool by tool.</summary>
    public static JsonArray Changes(IReadOnlyList<Entry> entries) =>
        List(
            entries.SelectMany(e =>
                e.Act switch
                {
                    ProgramChanged c => [By(e, Changed("program", c.Why, c.Compared))],
                    SetupChanged c => [By(e, Changed("setup", c.Why, c.Compared))],
                    EditNoted { Plan: not null } c => [By(e, Changed("edit at the machine", c.Why, c.Compared))],
                    _ => Array.Empty<JsonObject>(),
                }
            )
        );

    static JsonObject Changed(string what, string why, IReadOnlyList<ToolCompared>? compared) =>
        new()
        {
            ["what"] = what,
            ["why"] = why,
            ["tools"] = List(
                (compared ?? []).Select(t => new JsonObject
                {
                    ["tool"] = t.Tool,
                    ["change"] = t.Change == ToolChange.NotKnown ? "not-known" : t.Change.ToString().ToLowerInvariant(),
                    ["words"] = t.Words,
                })
            ),
        };

    public static JsonArray FirstPiece(ProveOut proveOut)
    {
        var notes = proveOut.FirstPiece.ToDictionary(n => n.Entry);
        return List(
            proveOut
                .Entries.Where(e => e.Act is FirstPieceMeasured or CorrectionEntered)
                .Select(e => By(e, Noted(FirstPieceAct(e.Act), notes.GetValueOrDefault(e.Number))))
        );
    }

    static JsonObject FirstPieceAct(Act act) =>
        act switch
        {
            FirstPieceMeasured m => new()
            {
                ["step"] = m.Step,
                ["measured"] = m.Typed,
                ["instrument"] = m.Instrument,
            },
            CorrectionEntered c => new()
            {
                ["step"] = c.Step,
                ["register"] = c.Register,
                ["value"] = c.Typed,
                ["why"] = c.Why,
            },
            _ => [],
        };

    /// <summary>Beside what was typed: what it was measured against and what was worked out, as it was at that moment.</summary>
    static JsonObject Noted(JsonObject row, FirstPieceNote? note)
    {
        if (note is null)
            return row;
        var c = note.Characteristic;
        row["nominal"] = c.Nominal.ToRegisterText(note.Units);
        row["plus"] = c.Plus.ToRegisterText(note.Units);
        row["minus"] = c.Minus.ToRegisterText(note.Units);
        row["unit"] = note.Units.Symbol();
        if (note.In is { } inside)
            row["in"] = inside;
        if (note.Words is { } words)
            row["correction"] = words;
        if (note.WorkedOut is { } workedOut)
            row["workedOut"] = workedOut.ToRegisterText(note.Units);
        if (note.AsWorkedOut is { } same)
            row["asWorkedOut"] = same;
        return row;
    }

    public static JsonArray Handoffs(IReadOnlyList<Entry> entries) =>
        List(
            entries
                .Where(e => e.Act is HandedOver or TookOver or TakingOverAlone or HandoffWithdrawn or LockoutLifted)
                .Select(e =>
                    By(
                        e,
                        e.Act switch
                        {
                            HandedOver h => new()
                            {
                                ["what"] = "handed over",
                                ["headings"] = new JsonObject(
                                    h.Headings.Select(w => KeyValuePair.Create<string, JsonNode?>(w.Key, w.Value))
                                ),
                            },
                            TookOver t => new() { ["what"] = "took over", ["words"] = t.Asked },
                            TakingOverAlone a => new() { ["what"] = "took over alone", ["words"] = a.Why },
                            HandoffWithdrawn w => new() { ["what"] = "withdrawn", ["words"] = w.Why },
                            LockoutLifted l => new() { ["what"] = "lockout lifted", ["words"] = l.What },
                            _ => [],
                        }
                    )
                )
        );

    public static JsonArray Signatures(IReadOnlyList<Entry> entries) =>
        List(
            entries
                .Where(e => e.Act.NeedsPin)
                .Select(e => By(e, new() { ["meaning"] = e.Act.Meaning, ["step"] = e.Act.About }))
        );

    static JsonObject By(Entry entry, JsonObject what)
    {
        what["entry"] = entry.Number;
        what["by"] = entry.By.Name;
        what["at"] = RecordDocument.Time(entry.At);
        what["zone"] = entry.Zone;
        return what;
    }

    static JsonArray List(IEnumerable<JsonObject> items) => new([.. items]);

    static string StateText(StepState state) =>
        state == StepState.ReadAgain ? "read again" : state.ToString().ToLowerInvariant();
}
