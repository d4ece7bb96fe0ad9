using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Npgsql;

namespace Handwheel.Data;

/// <summary>
/// Carries news between several servers on one PostgreSQL database (LISTEN/NOTIFY). Sent inside the transaction, so
/// that nobody hears of what was rolled back.
/// </summary>
public sealed class PostgresNews(string connectionString, ShopNews news, ILogger<PostgresNews> log) : BackgroundService
{
    const string Channel = "handwheel_news";
    static readonly TimeSpan Pause = TimeSpan.FromSeconds(5);
    readonly Guid own = Guid.NewGuid();

    sealed record Letter(Guid From, News News);

    internal async Task Send(HandwheelDb db)
    {
        foreach (var item in db.News)
        {
            var letter = JsonSerializer.Serialize(new Letter(own, item));
            await db.Database.ExecuteSqlAsync($"SELECT pg_notify({Channel}, {letter})");
        }
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await Listen(stoppingToken);
            }
            catch (Exception e) when (e is NpgsqlException or IOException)
            {
                log.LogWarning(e, "No news from other servers on this database; trying again.");
                // A database that is down is not asked in a tight loop; nothing but live updates waits for this.
                await Task.Delay(Pause, stoppingToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
            catch (OperationCanceledException)
            {
                return;
            }
        }
    }

    async Task Listen(CancellationToken ct)
    {
        await using var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync(ct);
        connection.Notification += (_, heard) =>
        {
            var letter = JsonSerializer.Deserialize<Letter>(heard.Payload);
            if (letter is not null && letter.From != own)
                news.Tell(letter.News);
        };
        await using var listen = new NpgsqlCommand("LISTEN " + Channel, connection);
        await listen.ExecuteNonQueryAsync(ct);
        while (!ct.IsCancellationRequested)
            await connection.WaitAsync(ct);
    }
}
