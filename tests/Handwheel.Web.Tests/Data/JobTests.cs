using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Web.Features;
using Handwheel.Web.Features.Board;
using Handwheel.Web.Features.Jobs;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.Features.Records;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

public sealed class JobTests(PostgresCluster cluster)
{
    [Theory, EachDatabase]
    public async Task A_program_s_bytes_come_back_as_they_came(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await TestJob.Make(shop);
        await shop.Restart();
        var opened = (await shop.Get<JobReader>().Open(job.Job.Id))!;
        Assert.Equal(TestJob.File("bearing-cap-op10.nc").Bytes, opened.Program.Bytes);
        Assert.Equal(TestJob.File("bearing-cap-op10.setup.json").Bytes, opened.SetupFile.Bytes);
        Assert.Equal(StoredFile.Digest(opened.Program.Bytes), opened.ProgramSha256);
    }

    [Theory, EachDatabase]
    public async Task A_program_alone_begins_a_draft_that_cannot_be_proved_out_yet(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await TestJob.Make(shop);
        var alone = (
            await shop.Get<MakeJob>().Run(job.Setter, job.Machine.Id, TestJob.File("bearing-cap-op10.nc"), null, [])
        ).Must;
        var opened = (await shop.Get<JobReader>().Open(alone.Id))!;
        Assert.True(opened.Job.SetupIsDraft);
        Assert.Equal(
            (await shop.Get<JobReader>().Open(job.Job.Id))!.Setup.Tools.Select(t => t.Number).Order(),
            opened.Setup.Tools.Select(t => t.Number)
        );
        Assert.All(opened.Setup.Tools, t => Assert.Null(t.Length));
        var refused = (await shop.Get<StartProveOut>().Run(job.Setter, TestShop.Desk, alone.Id)).Refused;
        Assert.Contains("draft", refused!.ToString(), StringComparison.Ordinal);
        var complete = await shop.Get<UpdateSetup>()
            .Run(
                job.Setter,
                TestShop.Desk,
                alone.Id,
                opened.Job.Version,
                TestJob.File("bearing-cap-op10.setup.json"),
                complete: true
            );
        Assert.Null(complete);
        Assert.Null((await shop.Get<StartProveOut>().Run(job.Setter, TestShop.Desk, alone.Id)).Refused);
    }

    [Theory]
    [InlineData("", "x.nc")]
    [InlineData("\0\u0001\u0002\u0003", "x.nc")]
    public async Task A_program_that_is_none_is_refused_and_nothing_is_kept(string program, string name)
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await TestJob.Make(shop);
        var bytes = System.Text.Encoding.Latin1.GetBytes(program);
        var refused = (
            await shop.Get<MakeJob>().Run(job.Setter, job.Machine.Id, new Upload(name, bytes), null, [])
        ).Refused;
        Assert.Contains("x.nc", refused!.ToString(), StringComparison.Ordinal);
        await using var db = await shop.Db();
        Assert.Equal(1, await db.Jobs.CountAsync());
    }

    [Theory, EachDatabase]
    public async Task A_setup_with_a_typing_slip_or_for_another_machine_is_refused(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await TestJob.Make(shop);
        var text = System.Text.Encoding.UTF8.GetString(TestJob.File("bearing-cap-op10.setup.json").Bytes);
        var slip = new Upload(
            "slip.json",
            System.Text.Encoding.UTF8.GetBytes(text.Replace("\"tools\"", "\"tolls\"", StringComparison.Ordinal))
        );
        var other = new Upload(
            "other.json",
            System.Text.Encoding.UTF8.GetBytes(text.Replace(job.Machine.Name, "Mill 77", StringComparison.Ordinal))
        );
        var program = TestJob.File("bearing-cap-op10.nc");
        var make = shop.Get<MakeJob>();
        Assert.Contains(
            "slip.json",
            (await make.Run(job.Setter, job.Machine.Id, program, slip, [])).Refused!.ToString(),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "for Mill 77",
            (await make.Run(job.Setter, job.Machine.Id, program, other, [])).Refused!.ToString(),
            StringComparison.Ordinal
        );
    }

    [Theory, EachDatabase]
    public async Task A_changed_program_goes_into_the_prove_out_with_its_reason(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var step = await job.Tickable();
        await job.Take(new Ticked(step.Id), 1);
        var changed = new Upload(
            "bearing-cap-op10.nc",
            [.. TestJob.File("bearing-cap-op10.nc").Bytes, .. "(REV B)\n"u8]
        );
        var receive = shop.Get<ReceiveProgram>();
        var version = (await shop.Get<JobReader>().Open(job.Job.Id))!.Job.Version;
        var silent = await receive.Run(job.Setter, TestShop.Desk, job.Job.Id, version, changed);
        Assert.Contains("say why", silent!.ToString(), StringComparison.Ordinal);
        Assert.Null(
            await receive.Run(job.Setter, TestShop.Desk, job.Job.Id, version, changed, "programmer sent revision B")
        );
        await shop.Restart();
        var open = await job.Open();
        Assert.Equal(open.ProveOut.Plan.Digest, Assert.IsType<ProgramChanged>(open.Entries[^1].Act).Plan);
        Assert.Equal(StoredFile.Digest(changed.Bytes), open.ProveOut.Plan.Subject.Programs[0].Sha256);
        Assert.Empty(open.ProveOut.Unexplained);
        var stale = await shop.Get<ReceiveProgram>()
            .Run(job.Setter, TestShop.Desk, job.Job.Id, version, changed, "again");
        Assert.Equal(RefusedBecause.ChangedMeanwhile, stale?.Because);
    }

    [Theory, EachDatabase]
    public async Task One_prove_out_at_a_time_on_a_machine(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var other = await shop.Get<MakeJob>()
            .Run(
                job.Setter,
                job.Machine.Id,
                TestJob.File("bearing-cap-op10.nc"),
                TestJob.File("bearing-cap-op10.setup.json"),
                []
            );
        var refused = (await shop.Get<StartProveOut>().Run(job.Setter, TestShop.Desk, other.Must.Id)).Refused;
        Assert.Contains("Job 1 is being proved out", refused!.ToString(), StringComparison.Ordinal);
    }

    [Theory, EachDatabase]
    public async Task The_board_hears_of_an_act_and_shows_where_the_job_stands(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        var heard = new List<News>();
        using (shop.Get<ShopNews>().Listen(heard.Add))
            await job.Take(new Ticked((await job.Tickable()).Id), 1);
        Assert.Equal(new News(job.Machine.Id, job.Job.Id, job.ProveOut), Assert.Single(heard));
        var card = Assert.Single(await shop.Get<BoardReader>().Read());
        Assert.Equal(2, card.UnderWay!.ProveOut.Last);
        Assert.NotNull(card.Next);
        Assert.Empty(card.Waiting);
        Assert.Equal(ProveOutEnd.Open, Assert.Single(await shop.Get<RecordsReader>().Read()).End);
    }

    [Theory, EachDatabase]
    public async Task A_record_is_signed_and_one_changed_byte_is_seen(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        await job.Take(new Note("chips in the pocket"), 1);
        await shop.Restart();
        var record = (await shop.Get<ExportRecord>().Run(job.ProveOut)).Must;
        using var root = await shop.Get<RecordKeys>().RootCertificate();
        var good = RecordVerifier.Verify(record, root);
        Assert.True(good.Intact, good.Fault);
        Assert.True(good.SignerConfirmed);
        var at = record.AsSpan().IndexOf("chips"u8);
        record[at] = (byte)'C';
        Assert.False(RecordVerifier.Verify(record, root).Intact);
    }

    [Fact]
    public async Task After_the_root_was_lost_records_are_signed_under_the_new_one()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        using var old = await shop.Get<RecordKeys>().RootCertificate();
        var before = (await shop.Get<ExportRecord>().Run(job.ProveOut)).Must;
        foreach (var file in Directory.GetFiles(shop.Folder.Keys, "root.*"))
            File.Delete(file);
        await shop.Restart();
        var after = (await shop.Get<ExportRecord>().Run(job.ProveOut)).Must;
        using var made = await shop.Get<RecordKeys>().RootCertificate();
        Assert.NotEqual(old.Thumbprint, made.Thumbprint);
        Assert.True(RecordVerifier.Verify(after, made) is { Intact: true, SignerConfirmed: true });
        Assert.True(RecordVerifier.Verify(before, old) is { Intact: true, SignerConfirmed: true });
    }

    [Fact]
    [System.Runtime.Versioning.UnsupportedOSPlatform("windows")]
    public async Task The_keys_are_for_the_service_s_own_account()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        await shop.Get<RecordKeys>().Make();
        Assert.SkipWhen(OperatingSystem.IsWindows(), "file modes are Unix's");
        var files = Directory.GetFiles(shop.Folder.Keys);
        Assert.Equal(4, files.Length);
        foreach (var file in files)
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
        Assert.Equal((UnixFileMode)0b111_000_000, File.GetUnixFileMode(shop.Folder.Keys));
    }
}
