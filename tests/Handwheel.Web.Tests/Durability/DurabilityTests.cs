using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Tests.Data;
using Microsoft.Data.Sqlite;

namespace Handwheel.Web.Tests.Durability;

/// <summary>
/// What was acknowledged is there after the process was killed, the power went or the disk failed, once and not twice, and the shop's
/// database is whole. HANDWHEEL_CUTS and HANDWHEEL_KILLS say how many in a long run.
/// </summary>
public sealed class DurabilityTests(PostgresCluster cluster)
{
    const int Notes = 80;

    /// <summary>A shop with a prove-out under way, which nobody has open.</summary>
    async Task<(TestShop Shop, string ProveOut, string Person)> Closed()
    {
        var shop = await TestShop.Open(Engine.Sqlite, cluster);
        var job = await (await TestJob.Make(shop)).Begin();
        return (shop, job.ProveOut.ToString(), job.Setter.Person.ToString());
    }

    static Dictionary<string, byte[]> DatabaseFiles(string folder) =>
        Directory
            .GetFiles(folder, "*.db*")
            .Where(f => !f.EndsWith("-shm", StringComparison.Ordinal))
            .ToDictionary(f => Path.GetFileName(f), File.ReadAllBytes, StringComparer.Ordinal);

    static List<int> Moments(DiskLog disk, Random random, int count) =>
        [.. Enumerable.Range(0, count).Select(_ => random.Next(disk.Calls + 1)).Order()];

    [Fact]
    public async Task Nothing_acknowledged_is_lost_or_doubled_when_the_power_goes()
    {
        var (shop, proveOut, person) = await Closed();
        await using (shop)
        {
            DiskLog? disk = null;
            var log = Path.Combine(Path.GetTempPath(), $"handwheel-{Guid.NewGuid():N}.log");
            await shop.WhileAsync(async () =>
            {
                var before = DatabaseFiles(shop.Folder.Path);
                await WritingProcess.Run(
                    (log, shop.Folder.Path),
                    "notes",
                    shop.Folder.Path,
                    proveOut,
                    person,
                    "1",
                    $"{Notes}"
                );
                disk = new(await File.ReadAllBytesAsync(log), before);
            });
            File.Delete(log);
            Assert.Equal(Notes, disk!.Acked);
            Assert.True(disk.Syncs > Notes, $"only {disk.Syncs} syncs for {Notes} acknowledged notes");
            var random = new Random(20260511);
            foreach (
                var (at, files, acked) in disk.Cuts(Moments(disk, random, LongRun.Asked("HANDWHEEL_CUTS", 40)), random)
            )
            {
                using var cut = new PulledDisk(files);
                var notes = await cut.Notes(shop.Folder.Database);
                Assert.True(
                    notes.Count >= acked && notes.SequenceEqual(Enumerable.Range(1, notes.Count)),
                    $"power cut after disk call {at}: {acked} acknowledged, there are {string.Join(' ', notes)}"
                );
            }
        }
    }

    /// <summary>Without it the test above would prove nothing: a database that does not sync each commit must lose some here.</summary>
    [Fact]
    public async Task The_same_power_cuts_are_seen_to_lose_what_was_not_synced()
    {
        var folder = Directory.CreateTempSubdirectory("handwheel-normal-").FullName;
        var log = Path.Combine(folder, "calls");
        await WritingProcess.Run((log, folder), "normal", folder, $"{Notes}");
        var disk = new DiskLog(await File.ReadAllBytesAsync(log), []);
        Assert.Equal(Notes, disk.Acked);
        var random = new Random(20260512);
        var lost = 0;
        foreach (var (_, files, acked) in disk.Cuts(Moments(disk, random, 40), random))
        {
            using var cut = new PulledDisk(files);
            if (acked > 0 && cut.Rows(Path.Combine(folder, "normal.db")) < acked)
                lost++;
        }
        Directory.Delete(folder, recursive: true);
        Assert.True(lost > 0, "no power cut lost anything: the watcher or the replay is wrong");
    }

    [Fact]
    public async Task Nothing_acknowledged_is_lost_or_doubled_when_the_process_is_killed()
    {
        var (shop, proveOut, person) = await Closed();
        await using (shop)
        {
            var acked = 0;
            var random = new Random(20260513);
            await shop.WhileAsync(async () =>
            {
                for (var kill = 0; kill < LongRun.Asked("HANDWHEEL_KILLS", 8); kill++)
                {
                    using var process = WritingProcess.Start(
                        null,
                        "notes",
                        shop.Folder.Path,
                        proveOut,
                        person,
                        $"{acked + 1}",
                        "1000"
                    );
                    // Killed when a line was read: somewhere in one of the notes after it.
                    for (var until = acked + random.Next(1, 25); acked < until; )
                    {
                        var line = await process.StandardOutput.ReadLineAsync();
                        if (line is null)
                            Assert.Fail(await process.StandardError.ReadToEndAsync());
                        if (line.StartsWith("acked ", StringComparison.Ordinal))
                            acked = int.Parse(line[6..], CultureInfo.InvariantCulture);
                    }
                    process.Kill();
                    while (await process.StandardOutput.ReadLineAsync() is { } rest)
                        if (rest.StartsWith("acked ", StringComparison.Ordinal))
                            acked = int.Parse(rest[6..], CultureInfo.InvariantCulture);
                    await process.WaitForExitAsync();
                }
                // The tablet sends the one that it has no answer for once more.
                await WritingProcess.Run(null, "notes", shop.Folder.Path, proveOut, person, $"{acked + 1}", "1");
            });
            using var disk = new PulledDisk(DatabaseFiles(shop.Folder.Path));
            Assert.Equal(Enumerable.Range(1, acked + 1), await disk.Notes(shop.Folder.Database));
        }
    }

    [Fact]
    public async Task A_failing_disk_call_or_a_full_disk_never_becomes_a_false_saved()
    {
        var (shop, proveOut, person) = await Closed();
        await using (shop)
        {
            var said = "";
            var log = Path.Combine(Path.GetTempPath(), $"handwheel-{Guid.NewGuid():N}.log");
            await shop.WhileAsync(async () =>
                said = await WritingProcess.Run((log, shop.Folder.Path), "faults", shop.Folder.Path, proveOut, person)
            );
            File.Delete(log);
            TestContext.Current.TestOutputHelper?.WriteLine(said);
            Assert.DoesNotContain(": 0 calls failed", said, StringComparison.Ordinal);
            Assert.Contains("full disk: 20 notes told, then stored", said, StringComparison.Ordinal);
        }
    }
}

/// <summary>Files as a disk held them, opened as the server opens them after the power is back.</summary>
sealed class PulledDisk : IDisposable
{
    readonly string folder = Directory.CreateTempSubdirectory("handwheel-pulled-").FullName;

    public PulledDisk(Dictionary<string, byte[]> files)
    {
        foreach (var (name, bytes) in files)
            File.WriteAllBytes(Path.Combine(folder, name), bytes);
    }

    /// <summary>Numbers of the notes in the order of their entries, after every page, reference and chain was looked through.</summary>
    public async Task<List<int>> Notes(string database)
    {
        var file = Path.Combine(folder, Path.GetFileName(database));
        // the log is taken in by the first who writes, as at the server's start
        using (var first = Open(file))
        {
            Scalar(first, "PRAGMA wal_checkpoint(TRUNCATE)");
            Assert.Equal("ok", Scalar(first, "PRAGMA integrity_check"));
        }
        _ = await BackupExamination.Run(file);
        using var connection = Open(file);
        using var command = connection.CreateCommand();
        command.CommandText = """SELECT "Body" FROM "ProveOutEntries" ORDER BY "ProveOutId", "Number" """;
        using var rows = command.ExecuteReader();
        var notes = new List<int>();
        while (rows.Read())
        {
            var body = rows.GetString(0);
            var at = body.IndexOf("\"note ", StringComparison.Ordinal);
            if (at >= 0)
                notes.Add(
                    int.Parse(
                        body.AsSpan(at + 6, body.IndexOf('"', at + 6) - at - 6),
                        NumberStyles.None,
                        CultureInfo.InvariantCulture
                    )
                );
        }
        return notes;
    }

    public long Rows(string database)
    {
        var file = Path.Combine(folder, Path.GetFileName(database));
        if (!File.Exists(file))
            return 0;
        using var connection = Open(file);
        Assert.Equal("ok", Scalar(connection, "PRAGMA integrity_check"));
        return Scalar(connection, "SELECT COUNT(*) FROM sqlite_master WHERE name = 't'") is 0L
            ? 0
            : (long)Scalar(connection, "SELECT COUNT(*) FROM t")!;
    }

    static SqliteConnection Open(string file)
    {
        var connection = new SqliteConnection($"Data Source={file};Pooling=False");
        connection.Open();
        return connection;
    }

    static object? Scalar(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);
}
