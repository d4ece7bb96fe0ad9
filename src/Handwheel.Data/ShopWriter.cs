using System.Data.Common;
using System.Threading.Channels;
using Handwheel.Jobs.Languages;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;

namespace Handwheel.Data;

/// <summary>
/// The one way to write. Work waits in a queue and runs one at a time, each in its own transaction that holds the
/// database's write lock from its first statement (SQLite: BEGIN IMMEDIATE; PostgreSQL: an advisory lock, so that several
/// servers on one database also take turns). What the work read inside is therefore still true when it is stored.
/// </summary>
public sealed class ShopWriter : IAsyncDisposable
{
    const long WriteLock = 0x48_57_57_52_49_54_45;

    readonly IDbContextFactory<HandwheelDb> databases;
    readonly ShopNews news;
    readonly PostgresNews? others;
    readonly TimeProvider time;
    readonly ILogger<ShopWriter> log;
    readonly Channel<Func<Task>> queue = Channel.CreateBounded<Func<Task>>(1000);
    readonly Task running;

    public ShopWriter(
        IDbContextFactory<HandwheelDb> databases,
        ShopNews news,
        TimeProvider time,
        ILogger<ShopWriter> log,
        PostgresNews? others = null
    )
    {
        (this.databases, this.news, this.time, this.log, this.others) = (databases, news, time, log, others);
        running = Task.Run(WorkOff);
    }

    /// <summary>Since when nothing could be stored (disk full, disk fault); null: writing works.</summary>
    public DateTimeOffset? CannotSaveSince { get; private set; }

    /// <summary>
    /// Runs <paramref name="work"/> and commits what it saved. When this returns, it is on the disk. When it throws, nothing
    /// was stored. A caller that goes away while its work runs does not stop it.
    /// </summary>
    public async Task<T> Write<T>(Func<HandwheelDb, Task<T>> work, CancellationToken ct = default)
    {
        var done = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        var spoken = Said.Language; // what comes of the work is read by who asked for it
        await queue.Writer.WriteAsync(
            async () =>
            {
                if (ct.IsCancellationRequested)
                {
                    done.SetCanceled(ct);
                    return;
                }
                using var caller = Said.Speak(spoken);
                try
                {
                    done.SetResult(await Once(work));
                }
#pragma warning disable CA1031 // whatever went wrong belongs to the caller, the queue goes on
                catch (Exception e)
#pragma warning restore CA1031
                {
                    done.SetException(e);
                }
            },
            ct
        );
        return await done.Task;
    }

    async Task<T> Once<T>(Func<HandwheelDb, Task<T>> work)
    {
        await using var db = await databases.CreateDbContextAsync();
        try
        {
            await using var transaction = await db.Database.BeginTransactionAsync();
            if (db.Database.IsNpgsql())
                await db.Database.ExecuteSqlAsync($"SELECT pg_advisory_xact_lock({WriteLock})");
            var result = await work(db);
            if (others is not null)
                await others.Send(db);
            await transaction.CommitAsync();
            CannotSaveSince = null;
            foreach (var item in db.News)
                news.Tell(item);
            return result;
        }
        catch (Exception e) when (IsStorageFault(e))
        {
            CannotSaveSince ??= time.GetUtcNow();
            log.LogError(e, "The database cannot store anything. Nothing was acknowledged.");
            throw new CannotSave(e);
        }
    }

    /// <summary>The database's own failing, as against a wrong request: SQLite codes as in its result-code list.</summary>
    static bool IsStorageFault(Exception? e) =>
        e switch
        {
            null => false,
            Microsoft.Data.Sqlite.SqliteException s => s.SqliteErrorCode is 8 or 10 or 11 or 13 or 14 or 26,
            Npgsql.PostgresException p => p.SqlState.StartsWith("53", StringComparison.Ordinal)
                || p.SqlState.StartsWith("57", StringComparison.Ordinal)
                || p.SqlState.StartsWith("58", StringComparison.Ordinal),
            Npgsql.NpgsqlException => true,
            _ => IsStorageFault(e.InnerException),
        };

    async Task WorkOff()
    {
        await foreach (var work in queue.Reader.ReadAllAsync())
            await work();
    }

    public async ValueTask DisposeAsync()
    {
        queue.Writer.TryComplete();
        await running;
    }
}

/// <summary>Nothing was stored because the disk or the database server failed. The message is for people.</summary>
public sealed class CannotSave(Exception cause)
    : Exception(
        Said.In(
            "Not saved: the shop's database cannot be written (disk full, or a fault of the disk or the database server). What was stored before is still there. Free some space or look at the server, then try again."
        ),
        cause
    );
