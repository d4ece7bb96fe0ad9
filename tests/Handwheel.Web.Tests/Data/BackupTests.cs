using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

public sealed class BackupTests(PostgresCluster cluster)
{
    static string NewFile(TestShop shop) => Path.Combine(shop.Folder.Path, Guid.NewGuid().ToString("N") + ".bak");

    async Task<(TestShop Shop, TestJob Job, string Backup)> BackedUp()
    {
        var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        await job.Take(new Note("chips in the pocket"), 1);
        var backup = NewFile(shop);
        SqliteBackup.Copy(shop.Folder.Database, backup);
        return (shop, job, backup);
    }

    /// <summary>HANDWHEEL_BACKUPS=100 is the long run.</summary>
    [Fact]
    public async Task A_backup_taken_while_people_work_is_whole()
    {
        await using var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        using var enough = new CancellationTokenSource();
        var working = Task.Run(async () =>
        {
            var written = 0;
            while (!enough.IsCancellationRequested)
                Assert.Null((await job.Take(new Note($"note {++written}"), written)).Refused);
            return written;
        });
        var counts = new List<int>();
        for (var left = LongRun.Asked("HANDWHEEL_BACKUPS", 10); left > 0; left--)
        {
            var backup = NewFile(shop);
            SqliteBackup.Copy(shop.Folder.Database, backup);
            counts.Add((await BackupExamination.Run(backup)).Entries);
            File.Delete(backup);
        }
        await enough.CancelAsync();
        Assert.InRange(await working, 1, int.MaxValue);
        Assert.Equal(counts.Order(), counts);
        Assert.True(counts[^1] > counts[0], "nobody wrote while the backups were taken");
    }

    [Fact]
    public async Task A_backup_comes_back_as_it_was_and_what_was_there_is_kept()
    {
        var (shop, job, backup) = await BackedUp();
        await using (shop)
        {
            await job.Take(new Note("newer"), 2);
            string? aside = null;
            await shop.While(() => aside = SqliteBackup.Restore(backup, shop.Folder, shop.Time.GetUtcNow()));
            Assert.Equal(2, (await job.Open()).ProveOut.Last);
            Assert.Equal(3, (await BackupExamination.Run(aside!)).Entries);
        }
    }

    [Fact]
    public async Task A_shop_that_is_being_served_is_not_replaced()
    {
        var (shop, _, backup) = await BackedUp();
        await using (shop)
        {
            var refused = Assert.Throws<IOException>(() =>
                SqliteBackup.Restore(backup, shop.Folder, shop.Time.GetUtcNow())
            );
            Assert.Contains("stop Handwheel", refused.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_file_that_is_there_is_not_overwritten()
    {
        var (shop, _, backup) = await BackedUp();
        await using (shop)
            Assert.Throws<IOException>(() => SqliteBackup.Copy(shop.Folder.Database, backup));
    }

    [Fact]
    public async Task A_damaged_backup_is_refused_wherever_it_is_damaged()
    {
        var (shop, _, backup) = await BackedUp();
        await using (shop)
        {
            var good = await File.ReadAllBytesAsync(backup);
            var cut = NewFile(shop);
            await File.WriteAllBytesAsync(cut, good[..(good.Length / 2)]);
            await Assert.ThrowsAsync<BadBackup>(() => BackupExamination.Run(cut));

            var none = NewFile(shop);
            await File.WriteAllTextAsync(none, "G0 G90 X0 Y0");
            await Assert.ThrowsAsync<BadBackup>(() => BackupExamination.Run(none));
            await Assert.ThrowsAsync<BadBackup>(() => BackupExamination.Run(NewFile(shop)));
        }
    }

    [Theory]
    [InlineData(
        """UPDATE "Files" SET "Content" = x'00' WHERE "Sha256" = (SELECT "Sha256" FROM "JobFiles" LIMIT 1)""",
        "is not what it was"
    )]
    [InlineData("""DELETE FROM "Files" WHERE "Sha256" = (SELECT "Sha256" FROM "JobFiles" LIMIT 1)""", "not there")]
    [InlineData("""UPDATE "ProveOutEntries" SET "Body" = replace("Body", 'chips', 'chipz')""", "not as it was written")]
    [InlineData("""DELETE FROM "ProveOutEntries" WHERE "Number" = 2""", "some are missing")]
    [InlineData("""DELETE FROM "__EFMigrationsHistory" """, "no shop's")]
    public async Task A_backup_that_was_tampered_with_is_refused_with_the_reason(string how, string reason)
    {
        var (shop, _, backup) = await BackedUp();
        await using (shop)
        {
            await using (
                var connection = new SqliteConnection($"Data Source={backup};Pooling=false;Foreign Keys=false")
            )
            {
                await connection.OpenAsync();
                await using var change = connection.CreateCommand();
                change.CommandText =
                    """DROP TRIGGER "ProveOutEntries_no_UPDATE"; DROP TRIGGER "ProveOutEntries_no_DELETE"; """ + how;
                await change.ExecuteNonQueryAsync();
            }
            var refused = await Assert.ThrowsAsync<BadBackup>(() => BackupExamination.Run(backup));
            Assert.Contains(reason, refused.Message, StringComparison.Ordinal);
        }
    }
}
