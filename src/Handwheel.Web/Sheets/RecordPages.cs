using System.Text.Json;
using Handwheel.Jobs.Proving;
using PdfSharp.Drawing;

namespace Handwheel.Web.Sheets;

/// <summary>The pages of a record: what was proved, by whom, what was left out, what was read, who signed.</summary>
static class RecordPages
{
    internal static readonly Column Who = new("by", 78, Size: 8.5);
    internal static readonly Column Time = new("when", 136, Size: 8);
    internal static readonly Column EntryNumber = new("entry", 32, Align.Right, Face.Mono, 8.5);

    public static void Print(Flow flow, JsonElement record)
    {
        Title(flow, record);
        Proved(flow, record);
        Signatures(flow, record);
        Deviations(flow, record);
        Edits(flow, record);
        Changes(flow, record);
        RecordHappeningsPages.Print(flow, record, step => TitleOf(record, step));
        FirstPiece(flow, record);
        Steps(flow, record);
        Readings(flow, record);
        Handoffs(flow, record);
        WhatThisIs(flow, record);
    }

    static void Title(Flow flow, JsonElement record)
    {
        var ink = flow.Ink;
        var standing = record.Text("standing").ToUpperInvariant();
        var width = Ink.Width(standing, Face.SansBold, 18) + 20;
        ink.Fill(flow.Right - width, flow.Y, width, 30, XColors.Black);
        ink.Text(standing, Face.SansBold, 18, flow.Right - (width / 2), flow.Y + 21, Align.Centre, XColors.White);
        ink.Text("Prove-out record", Face.SansBold, 9, flow.Left, flow.Y + 8);
        var part = record.Text("part") is { Length: > 0 } named ? named : "Job " + record.Text("job");
        ink.Text(Ink.Fit(part, Face.SansBold, 22, flow.Width - width - 12), Face.SansBold, 22, flow.Left, flow.Y + 34);
        flow.Y += 46;
        (string Name, string Value)[] facts =
        [
            ("Operation", record.Text("operation")),
            ("Revision", record.Text("revision")),
            ("Machine", record.Text("machine")),
            ("Job", record.Text("job")),
            ("Lengths in", record.Text("units") == "in" ? "inch" : record.Text("units")),
            ("Shop", record.Text("shop")),
        ];
        var cell = flow.Width / facts.Length;
        for (var i = 0; i < facts.Length; i++)
        {
            ink.Text(facts[i].Name, Face.Sans, 8, flow.Left + (i * cell), flow.Y + 7);
            var value = Ink.Fit(facts[i].Value.Length > 0 ? facts[i].Value : "not given", Face.SansBold, 12, cell - 6);
            ink.Text(value, Face.SansBold, 12, flow.Left + (i * cell), flow.Y + 21);
        }
        flow.Y += 30;
    }

    static void Proved(Flow flow, JsonElement record)
    {
        var proved = record.Part("proved");
        flow.Heading("What was proved");
        foreach (var program in proved.List("programs"))
        {
            var number = program.Text("number") is { Length: > 0 } n ? $"  (number {n})" : "";
            flow.Words("Program as proven: " + program.Text("name") + number, Face.SansBold, 10);
            flow.Words("sha256 " + program.Text("sha256"), Face.Mono, 8, 12);
        }
        BegunWith(flow, proved);
        flow.Words("Setup, sha256 " + proved.Text("setupSha256"), Face.Mono, 8);
        flow.Words("Check, sha256 " + proved.Text("checkSha256"), Face.Mono, 8);
        flow.Words("Plan,  sha256 " + proved.Text("plan"), Face.Mono, 8);
        flow.Words("Check: " + proved.Text("check"));
        var raise = proved.Text("raise") is { Length: > 0 } r ? r : "none";
        flow.Words($"Purpose: {proved.Text("purpose")}. Raise for the air cut: {raise}.");
        ProvedBefore(flow, proved);
        foreach (var rules in proved.List("rules"))
            flow.Words(
                $"Prove-out rules for {rules.Text("for")}: version {rules.Text("version")}, sha256 {rules.Text("sha256")}"
            );
        flow.Space(4);
        var head = record.Part("head");
        flow.Words($"Head of the chain: entry {head.Text("number")}", Face.SansBold, 10);
        flow.Words(head.Text("hash"), Face.MonoBold, 9, 12);
    }

    static void ProvedBefore(Flow flow, JsonElement proved)
    {
        if (!proved.TryGetProperty("provedBefore", out var before) || before.ValueKind != JsonValueKind.Object)
            return;
        flow.Words(
            $"Proved before on {before.Text("machine")}, {before.Text("job")}, released {before.Text("released")[..10]}; record {before.Text("log")}."
        );
        foreach (var d in before.List("differences"))
            flow.Words($"{d.Text("what")}: was {d.Text("was")}, is {d.Text("now")}. {d.Text("means")}", indent: 12);
    }

    /// <summary>Programs that were changed on the way, as they were at the start.</summary>
    static void BegunWith(Flow flow, JsonElement proved)
    {
        var proven = proved.List("programs").Select(p => p.Text("sha256")).ToHashSet(StringComparer.Ordinal);
        foreach (var program in proved.List("begunWith").Where(p => !proven.Contains(p.Text("sha256"))))
            flow.Words($"Begun with {program.Text("name")}, sha256 {program.Text("sha256")}", Face.Mono, 8);
    }

    static void Changes(Flow flow, JsonElement record)
    {
        flow.Heading("Changes of program and setup, by what the machine does", 50);
        var changes = record.List("changes").ToList();
        if (changes.Count == 0)
            flow.Words("None.");
        foreach (var change in changes)
        {
            flow.Words(
                $"Entry {change.Text("entry")}, {change.Text("what")}, {change.Text("by")}, {change.When()}: {change.Text("why")}",
                Face.SansBold,
                9.5
            );
            foreach (var tool in change.List("tools"))
                flow.Words(tool.Text("words"), indent: 12);
            if (!change.List("tools").Any())
                flow.Words("Not compared: everything that rests on it was opened again.", indent: 12);
        }
    }

    static void Signatures(Flow flow, JsonElement record)
    {
        flow.Heading("Signatures", 60);
        Rows(
            flow,
            record.List("signatures"),
            [new("meaning", 90, Face: Face.SansBold), new("of", 190, Size: 9), Who, Time, EntryNumber],
            s => [s.Text("meaning"), TitleOf(record, s.Text("step")), s.Text("by"), s.When(), s.Text("entry")]
        );
    }

    static void Deviations(Flow flow, JsonElement record)
    {
        flow.Heading("Deviations", 50);
        Rows(
            flow,
            record.List("deviations"),
            [new("step", 150, Size: 9), new("reason", 190, Size: 9), Who, Time, EntryNumber],
            d => [TitleOf(record, d.Text("step")), d.Text("reason"), d.Text("by"), d.When(), d.Text("entry")]
        );
    }

    static void Edits(Flow flow, JsonElement record)
    {
        flow.Heading("Edits at the machine", 50);
        Rows(
            flow,
            record.List("edits"),
            [
                new("line", 34, Align.Right, Face.Mono, 9),
                new("  old", 120, Face: Face.Mono, Size: 8.5),
                new("new", 120, Face: Face.Mono, Size: 8.5),
                new("why", 110, Size: 9),
                Who,
                Time,
                EntryNumber,
            ],
            e =>
                [
                    e.Text("line"),
                    "  " + e.Text("old"),
                    e.Text("new"),
                    e.Text("why"),
                    e.Text("by"),
                    e.When(),
                    e.Text("entry"),
                ]
        );
    }

    static void FirstPiece(Flow flow, JsonElement record)
    {
        flow.Heading("First piece, as typed", 50);
        Rows(
            flow,
            record.List("firstPiece"),
            [
                new("what", 80, Size: 9),
                new("typed", 50, Align.Right, Face.MonoBold, 9.5),
                new("  wanted", 122, Size: 8),
                new("  judged", 84, Size: 8),
                Who,
                Time,
                EntryNumber,
            ],
            m =>
                [
                    TitleOf(record, m.Text("step")),
                    m.Text("measured") is { Length: > 0 } measured ? measured : m.Text("value"),
                    "  " + Wanted(m),
                    "  " + Outcome(m),
                    m.Text("by"),
                    m.When(),
                    m.Text("entry"),
                ]
        );
        foreach (var m in record.List("firstPiece"))
        {
            var words = m.Text("correction").Length > 0 ? m.Text("correction") : m.Text("why");
            if (words.Length > 0)
                flow.Words($"Entry {m.Text("entry")}: {words}", indent: 12);
        }
    }

    static string Wanted(JsonElement m) =>
        m.Text("register").Length > 0
            ? m.Text("workedOut") is { Length: > 0 } workedOut
                ? $"{m.Text("register")} to {workedOut}"
                : m.Text("register")
            : m.Text("nominal").Length > 0
                ? $"{m.Text("nominal")} +{m.Text("plus")} −{m.Text("minus")} {m.Text("unit")}"
                : "";

    static string Outcome(JsonElement m)
    {
        if (m.Text("register").Length > 0)
            return Is(m, "asWorkedOut") switch
            {
                true => "as worked out",
                false => "NOT AS WORKED OUT",
                _ => "register set",
            };
        var inOrOut = Is(m, "in") switch
        {
            // "in" alone would be read as the unit beside it.
            true => "within tolerance",
            false => "OUT OF TOLERANCE",
            _ => "",
        };
        return string.Join(", ", new[] { inOrOut, m.Text("instrument") }.Where(t => t.Length > 0));
    }

    static bool? Is(JsonElement part, string name) =>
        part.TryGetProperty(name, out var value) && (value.ValueKind is JsonValueKind.True or JsonValueKind.False)
            ? value.ValueKind == JsonValueKind.True
            : null;

    static void Steps(Flow flow, JsonElement record)
    {
        Column[] columns =
        [
            new("step", 226, Size: 9),
            new("typed", 84, Align.Right, Face.MonoBold, 9.5),
            new("   state", 66, Size: 8.5),
            Who,
            Time,
            EntryNumber,
        ];
        foreach (var phase in record.List("steps").GroupBy(s => s.Text("phase")))
        {
            flow.Heading("Steps: " + phase.Key, 60);
            var zone = Zone(record);
            new Table(flow, columns, 9, name: "Steps: " + phase.Key).Draw(
                phase.Select(s =>
                    new Cell[]
                    {
                        Title(s),
                        s.Text("typed") is { Length: > 0 } typed ? $"{typed} {s.Text("unit")}" : "",
                        "  " + s.Text("state") + (s.Text("notBlind").Length > 0 ? ", not blind" : ""),
                        s.Text("by"),
                        DateTimeOffset.TryParse(
                            s.Text("at"),
                            System.Globalization.CultureInfo.InvariantCulture,
                            out var at
                        )
                            ? RecordText.When(at, zone)
                            : "",
                        s.Text("entry"),
                    }
                )
            );
        }
    }

    static string Title(JsonElement step)
    {
        var card = step.Text("card");
        const string sign = "Sign: ";
        const string done = " is done";
        if (
            step.Text("title") is var title
            && title.StartsWith(sign, StringComparison.Ordinal)
            && title.EndsWith(done, StringComparison.Ordinal)
        )
            return $"{char.ToUpperInvariant(title[sign.Length])}{title[(sign.Length + 1)..^done.Length]} signed as done";
        return card.Length > 0 && !step.Text("title").StartsWith(card, StringComparison.Ordinal)
            ? $"{card}: {step.Text("title")}"
            : step.Text("title");
    }

    static void Readings(Flow flow, JsonElement record)
    {
        flow.Heading("Readings that were not right and blind the first time", 60);
        flow.Words("Every try, exactly as typed. All other readings stand once, with their steps above.");
        var once = record
            .List("steps")
            .Where(s => s.Text("attempts") == "1" && s.Text("notBlind").Length == 0)
            .Select(s => s.Text("step"))
            .ToHashSet(StringComparer.Ordinal);
        Rows(
            flow,
            record
                .List("entries")
                .Select(e => e.Part("body"))
                .Where(b => b.Part("act").Text("kind") is "reading-typed" or "line-typed" or "saved-program-compared")
                .Where(b => !once.Contains(b.Part("act").Text("step"))),
            [new("step", 190, Size: 9), new("typed", 140, Align.Right, Face.MonoBold, 9.5), Who, Time, EntryNumber],
            b =>
                [
                    TitleOf(record, b.Part("act").Text("step")),
                    Entered(b.Part("act")),
                    b.Part("by").Text("name"),
                    b.When(),
                    b.Text("number"),
                ]
        );
    }

    static string Entered(JsonElement act) =>
        act.Text("kind") switch
        {
            "reading-typed" => act.Text("typed"),
            "line-typed" => act.Text("number") + " " + act.Text("block"),
            _ when act.TryGetProperty("differs", out var differs) =>
                $"file, line {differs.Text("line")}: {differs.Text("saved")}; checked: {differs.Text("checked")}",
            _ => "file, digest " + act.Text("comparableSha256")[..12],
        };

    static void Handoffs(Flow flow, JsonElement record)
    {
        flow.Heading("Handoffs", 50);
        var any = false;
        foreach (var handoff in record.List("handoffs"))
        {
            any = true;
            flow.Words(
                $"{handoff.Text("by")} {handoff.Text("what")}, {handoff.When()}, entry {handoff.Text("entry")}",
                Face.SansBold,
                10
            );
            if (handoff.Text("words") is { Length: > 0 } words)
                flow.Words(words, indent: 12);
            foreach (var heading in Handoff.Headings)
            {
                if (handoff.Part("headings").Text(heading.Key) is { Length: > 0 } text)
                    flow.Words($"{heading.Title}: {text}", indent: 12);
            }
            flow.Space(4);
        }
        if (!any)
            flow.Words("None.");
    }

    static void WhatThisIs(Flow flow, JsonElement record)
    {
        flow.Heading("People in this record", 50);
        foreach (var person in record.List("people"))
            flow.Words($"{person.Text("name")}  ({person.Text("roles")})");
        flow.Heading("What this record shows, and what it does not", 60);
        flow.Words(
            "The shop's server signed what signed-in people confirmed; names are those of the accounts that were used, times are the server's clock. Each entry's hash covers the one before it, so a changed, missing or added entry shows. That shows tampering, it does not prevent it: whoever holds the shop's keys can write a new record. Compare the head above with the one on paper that was printed earlier."
        );
        flow.Words(
            $"This file carries the record as {RecordPdf.AttachmentName}. handwheel verify FILE checks file and record with neither database nor network; with --trust it also checks that they come from the shop's root certificate."
        );
    }

    static void Rows(Flow flow, IEnumerable<JsonElement> items, Column[] columns, Func<JsonElement, Cell[]> row)
    {
        var all = items.ToList();
        if (all.Count == 0)
            flow.Words("None.");
        else
            new Table(flow, columns, 9).Draw(all.Select(row));
    }

    static string TitleOf(JsonElement record, string step)
    {
        if (step.Length == 0)
            return "the prove-out";
        var found = record.List("steps").FirstOrDefault(s => s.Text("step") == step);
        return found.ValueKind == JsonValueKind.Object ? Title(found) : StepTitles.OfGone(step) ?? step;
    }

    static string Zone(JsonElement record) =>
        record.List("entries").Select(e => e.Part("body").Text("zone")).LastOrDefault("");
}
