using CsCheck;
using Handwheel.Jobs.Motions;
using Handwheel.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>
/// Another revision at any moment of a prove-out: exactly the steps that rest on what changed are open again, with the reason,
/// and the ledger is as it was. What rests on what is written down here once more, without the code's own table.
/// </summary>
public class ProgramChangeProperties
{
    const int Tools = 3;
    static readonly byte[] Revised = "%\nO1234\nN10 T1 M6\nN20 T2 M6\nN30 G1 X1.\nM30\n"u8.ToArray();

    /// <summary>What happened to each tool: 0 the same, 1 cuts differently, 2 moves differently, 3 cannot be told.</summary>
    static readonly Gen<int[]> AnyChanges = Gen.Int[0, 9]
        .Select(n =>
            n < 5 ? 0
            : n < 7 ? 1
            : n < 9 ? 2
            : 3
        )
        .Array[Tools];

    static ProveOutPlan Plan(int[] changes, ProveOutPlan? before)
    {
        var setup = Setup(Tools);
        var subject = Subject(Purpose.Prove, before is null ? null : Revised) with
        {
            Motions = Enumerable
                .Range(1, Tools)
                .Where(t => changes[t - 1] != 3)
                .ToDictionary(t => t, t => changes[t - 1] == 2 ? "other way" : "same way"),
            Cutting = Enumerable
                .Range(1, Tools)
                .Where(t => changes[t - 1] != 3)
                .ToDictionary(t => t, t => changes[t - 1] > 0 ? "other feed" : "same feed"),
        };
        return before is null
            ? ProveOutPlan.From(subject, setup, Check(setup), new() { ReadWear = false })
            : before.Revised(subject, setup, Check(setup));
    }

    static IReadOnlyList<ToolCompared> Words(int[] changes) =>
        [
            .. changes.Select(
                (c, i) =>
                    new ToolCompared(
                        i + 1,
                        c switch
                        {
                            0 => ToolChange.Same,
                            1 => ToolChange.Cuts,
                            2 => ToolChange.Moves,
                            _ => ToolChange.NotKnown,
                        },
                        $"T{i + 1} is told of"
                    )
            ),
        ];

    static HashSet<string> Expected(IEnumerable<string> done, int[] changes)
    {
        var open = new HashSet<string>(StringComparer.Ordinal);
        var ids = done.ToList();
        void Open(Func<string, bool> which) => open.UnionWith(ids.Where(which));
        Open(id => id is "ready.program" or "ready.signed" or "release.edits");
        for (var tool = 1; tool <= Tools; tool++)
        {
            var (air, cut) = ($"air-cut.tool.{tool}.", $"first-cut.tool.{tool}.");
            if (changes[tool - 1] >= 2)
                Open(id =>
                    id.StartsWith(air, StringComparison.Ordinal) || id.StartsWith(cut, StringComparison.Ordinal)
                );
            if (changes[tool - 1] == 1)
                Open(id => id == cut + "entry");
        }
        if (open.Any(id => id.StartsWith("air-cut.", StringComparison.Ordinal)))
            Open(id => id is "air-cut.ran" or "air-cut.signed");
        // An air cut that is not over any more needs the raise, which has been taken out again.
        if (open.Contains("air-cut.ran") && ids.Contains("restore.offset.G55.z"))
            Open(id => id == "air-cut.raised.G55.z");
        if (open.Any(id => id.StartsWith("first-cut.", StringComparison.Ordinal)))
            Open(id =>
                id is "first-cut.cut" or "first-cut.signed" || id.StartsWith("first-piece.", StringComparison.Ordinal)
            );
        return open;
    }

    [Fact]
    public void Exactly_what_rests_on_the_change_is_opened_and_says_why_and_the_ledger_stays()
    {
        var first = Plan([0, 0, 0], null);
        var whole = new Walk(first).Begin().Until("release.signed").ProveOut;
        Gen.Int[1, whole.Entries.Count]
            .Select(AnyChanges)
            .Sample(
                (count, changes) =>
                {
                    var second = Plan(changes, first);
                    var before = ProveOut.Replay(second, [.. whole.Entries.Take(count)], Ledger.Empty);
                    var after = before.Apply(
                        new(
                            before.Last + 1,
                            Morning.AddDays(1),
                            "Europe/Vienna",
                            Programmer,
                            "desk",
                            before.Last,
                            new ProgramChanged(second.Digest, "revision B", Words(changes))
                        )
                    );
                    var done = before
                        .Steps.Where(s => s.State == StepState.Done && s.Takes != Takes.Nothing)
                        .Select(s => s.Id);
                    var expected = Expected(done, changes);
                    var opened = done.Where(id => after.Steps.First(s => s.Id == id).State != StepState.Done);
                    Assert.Equal(expected.Order(StringComparer.Ordinal), opened.Order(StringComparer.Ordinal));
                    Assert.Equal(before.Ledger.Readings, after.Ledger.Readings);
                    foreach (var id in expected.Where(id => id != "air-cut.raised.G55.z"))
                        Assert.Contains(
                            "revision B",
                            after.Steps.First(s => s.Id == id).Says,
                            StringComparison.Ordinal
                        );
                    for (var tool = 1; tool <= Tools; tool++)
                        if (expected.Contains($"first-cut.tool.{tool}.entry"))
                            Assert.Contains(
                                $"T{tool} is told of",
                                after.Steps.First(s => s.Id == $"first-cut.tool.{tool}.entry").Says,
                                StringComparison.Ordinal
                            );
                },
                iter: 400
            );
    }

    [Fact]
    public void After_a_change_the_prove_out_can_be_brought_to_its_end()
    {
        var first = Plan([0, 0, 0], null);
        var second = Plan([0, 2, 1], first);
        var walked = new Walk(first).Begin().Until("release.signed").ProveOut;
        var walk = new Walk(ProveOut.Replay(second, walked.Entries, walked.Ledger));
        walk.Do(new ProgramChanged(second.Digest, "revision B"), Programmer);
        Assert.NotEqual(Standing.Released, walk.ProveOut.Standing);
        Assert.Equal(Standing.Released, walk.Until().ProveOut.Standing);
        Assert.Empty(walk.ProveOut.Unexplained);
    }

    [Fact]
    public void A_tool_that_is_gone_has_the_piece_cut_again()
    {
        var setup = Setup(2);
        var one = Setup(1);
        static ProveOutSubject Same(byte[]? program) =>
            Subject(Purpose.Prove, program) with
            {
                Motions = new Dictionary<int, string> { [1] = "a", [2] = "b" },
            };
        var first = ProveOutPlan.From(Same(null), setup, Check(setup), new() { ReadWear = false });
        var second = first.Revised(Same(Revised), setup, Check(one));
        var walked = new Walk(first).Begin().Until("first-piece.1").ProveOut;
        var before = ProveOut.Replay(second, walked.Entries, walked.Ledger);
        var after = before.Apply(
            new(
                before.Last + 1,
                Morning.AddDays(1),
                "UTC",
                Programmer,
                "desk",
                before.Last,
                new ProgramChanged(second.Digest, "x")
            )
        );
        Assert.DoesNotContain(after.Steps, s => s.Id.Contains("tool.2.", StringComparison.Ordinal));
        Assert.NotEqual(StepState.Done, after.Steps.First(s => s.Id == "first-cut.cut").State);
        Assert.Equal(StepState.Done, after.Steps.First(s => s.Id == "first-cut.tool.1.entry").State);
    }
}
