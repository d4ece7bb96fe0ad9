using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Motions;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Web.Features;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Features.Records;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

/// <summary>The program is edited at the machine, or a newer one comes: compared tool by tool, and the program as proven is the one that is kept.</summary>
public sealed class EditTests(PostgresCluster cluster)
{
    const string Drill = "N530 G99 G83 X0.5 Y0.5 Z-1.12 R0.1 Q0.2 F22.5";
    const string Deeper = "N530 G99 G83 X0.5 Y0.5 Z-1.17 R0.1 Q0.2 F22.5";

    static int LineOf(byte[] program, string block) =>
        1 + Array.FindIndex(Encoding.UTF8.GetString(program).Split('\n'), l => l.TrimEnd('\r') == block);

    static async Task<byte[]> InUse(TestJob job) => (await job.Shop.Get<JobReader>().Open(job.Job.Id))!.Program.Bytes;

    [Theory, EachDatabase]
    public async Task An_edit_at_the_machine_makes_the_program_as_proven(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var before = await InUse(job);
        var line = LineOf(before, Drill);
        var act = new EditNoted(line, Drill, Deeper, "drill through was short");
        var first = (await job.Take(act, 1, "edit-1")).Must;
        Assert.Equal(first, (await job.Take(act, 1, "edit-1")).Must);
        await shop.Restart();
        Assert.Equal(first, (await job.Take(act, 1, "edit-1")).Must);

        var open = await job.Open();
        Assert.Equal(2, open.ProveOut.Last);
        Assert.Empty(open.ProveOut.Unexplained);
        var edit = Assert.IsType<EditNoted>(open.Entries[^1].Act);
        Assert.Equal(open.ProveOut.Plan.Digest, edit.Plan);
        var changed = edit.Compared!.Where(t => t.Change != ToolChange.Same).ToList();
        Assert.Equal([4], changed.Select(t => t.Tool));
        Assert.Contains(
            $"goes 0.0500 in deeper from line {line}: Z -1.1700, before -1.1200",
            changed[0].Words,
            StringComparison.Ordinal
        );
        var proven = await InUse(job);
        Assert.Equal(
            Encoding.UTF8.GetString(before).Replace(Drill, Deeper, StringComparison.Ordinal),
            Encoding.UTF8.GetString(proven)
        );
        Assert.Equal(StoredFile.Digest(proven), open.ProveOut.Plan.Subject.Programs[0].Sha256);
        await using var db = await shop.Db();
        var replaced = StoredFile.Digest(before);
        Assert.True(await db.Files.AnyAsync(f => f.Sha256 == replaced));
        var record = Encoding.UTF8.GetString((await shop.Get<ExportRecord>().Run(job.ProveOut)).Must);
        Assert.Contains(StoredFile.Digest(proven), record, StringComparison.Ordinal);
        Assert.Contains("goes 0.0500 in deeper from line", record, StringComparison.Ordinal);
        Assert.True(RecordVerifier.Verify(Encoding.UTF8.GetBytes(record), null).Intact);
    }

    [Theory, EachDatabase]
    public async Task The_saved_program_gives_the_same_comparison_as_the_edit_typed(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var typed = await (await TestJob.Make(shop)).Begin();
        var before = await InUse(typed);
        var line = LineOf(before, Drill);
        _ = (await typed.Take(new EditNoted(line, Drill, Deeper, "short"), 1)).Must;
        var edited = Assert.IsType<EditNoted>((await typed.Open()).Entries[^1].Act).Compared!;
        _ = (await typed.Take(new Abandoned("to be sent as a file"), 2, pin: TestJob.Pin)).Must;

        var sent = await (await TestJob.Again(typed)).Begin();
        var file = Encoding.UTF8.GetBytes(
            Encoding.UTF8.GetString(before).Replace(Drill, Deeper, StringComparison.Ordinal)
        );
        var saved = shop.Get<SavedProgram>();
        Assert.Contains(
            "nothing was edited",
            (await saved.Run(sent.Setter, TestShop.Desk, sent.ProveOut, before, "short"))!.ToString(),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "say why",
            (await saved.Run(sent.Setter, TestShop.Desk, sent.ProveOut, file, " "))!.ToString(),
            StringComparison.Ordinal
        );
        Assert.Null(await saved.Run(sent.Setter, TestShop.Desk, sent.ProveOut, file, "short"));
        var open = await sent.Open();
        Assert.Equal(edited, Assert.IsType<ProgramChanged>(open.Entries[^1].Act).Compared);
        Assert.Equal(StoredFile.Digest(file), open.ProveOut.Plan.Subject.Programs[0].Sha256);
    }

    [Theory, EachDatabase]
    public async Task An_edit_that_does_not_fit_is_refused_and_changes_nothing(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var before = await InUse(job);
        var line = LineOf(before, Drill);
        Assert.Contains(
            $"It stands in line {line}.",
            (await job.Take(new EditNoted(3, Drill, Deeper, "short"), 1)).Refused!.ToString(),
            StringComparison.Ordinal
        );
        var forged = new EditNoted(line, Drill, Deeper, "short", Plan: new string('a', 64));
        Assert.Contains("worked out here", (await job.Take(forged, 1)).Refused!.ToString(), StringComparison.Ordinal);
        var silent = new EditNoted(line, Drill, Deeper, "", null, []);
        Assert.NotNull((await job.Take(silent, 1)).Refused);
        Assert.Equal(before, await InUse(job));
        Assert.Equal(1, (await job.Open()).ProveOut.Last);
    }

    [Theory, EachDatabase]
    public async Task Of_two_edits_at_once_each_is_in_the_program_or_its_author_is_told(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var before = await InUse(job);
        var line = LineOf(before, Drill);
        string[] blocks = [Deeper, Drill.Replace("F22.5", "F20.", StringComparison.Ordinal)];
        var answers = await Task.WhenAll(
            blocks.Select(b => Task.Run(() => job.Take(new EditNoted(line, Drill, b, "both"), 1)))
        );
        var open = await job.Open();
        var taken = answers.Count(a => a.Refused is null);
        Assert.Equal(1, taken);
        Assert.Equal(1 + taken, open.ProveOut.Last);
        Assert.Equal(StoredFile.Digest(await InUse(job)), open.ProveOut.Plan.Subject.Programs[0].Sha256);
        Assert.Empty(open.ProveOut.Unexplained);
    }
}
