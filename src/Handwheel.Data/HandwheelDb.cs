using Handwheel.Nc;
using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace Handwheel.Data;

/// <summary>
/// The shop's database, the same model on SQLite and PostgreSQL. Made by <c>IDbContextFactory</c>; writing goes through
/// <see cref="ShopWriter"/>. Lengths are whole nanometres; times are UTC to the microsecond.
/// </summary>
public sealed class HandwheelDb(DbContextOptions<HandwheelDb> options) : DbContext(options), IDataProtectionKeyContext
{
    public DbSet<Machine> Machines => Set<Machine>();
    public DbSet<MachineReading> MachineReadings => Set<MachineReading>();
    public DbSet<Person> People => Set<Person>();
    public DbSet<Tablet> Tablets => Set<Tablet>();
    public DbSet<FailedSignIn> FailedSignIns => Set<FailedSignIn>();
    public DbSet<Job> Jobs => Set<Job>();
    public DbSet<JobFile> JobFiles => Set<JobFile>();
    public DbSet<JobParameter> JobParameters => Set<JobParameter>();
    public DbSet<StoredFile> Files => Set<StoredFile>();
    public DbSet<ProveOutLog> ProveOuts => Set<ProveOutLog>();
    public DbSet<ProveOutEntry> ProveOutEntries => Set<ProveOutEntry>();
    public DbSet<CuttingTableVersion> CuttingTables => Set<CuttingTableVersion>();
    public DbSet<ProvingTemplateVersion> ProvingTemplates => Set<ProvingTemplateVersion>();
    public DbSet<IdempotencyKey> IdempotencyKeys => Set<IdempotencyKey>();
    public DbSet<ShopSettings> Settings => Set<ShopSettings>();
    public DbSet<DataProtectionKey> DataProtectionKeys => Set<DataProtectionKey>();

    /// <summary>What the writer tells everybody once this unit of work is safely stored.</summary>
    public List<News> News { get; } = [];

    public Task<ShopSettings> Shop(CancellationToken ct = default) => Settings.SingleAsync(ct);

    /// <summary>Keeps the bytes if they are not there yet; returns their digest. Saved with the rest.</summary>
    public async Task<string> Keep(byte[] content, DateTimeOffset at, CancellationToken ct = default)
    {
        var file = StoredFile.Of(content, at);
        var there =
            Files.Local.Any(f => f.Sha256 == file.Sha256) || await Files.AnyAsync(f => f.Sha256 == file.Sha256, ct);
        if (!there)
            Files.Add(file);
        return file.Sha256;
    }

    public override int SaveChanges(bool acceptAllChangesOnSuccess)
    {
        CountVersions();
        return base.SaveChanges(acceptAllChangesOnSuccess);
    }

    public override Task<int> SaveChangesAsync(
        bool acceptAllChangesOnSuccess,
        CancellationToken cancellationToken = default
    )
    {
        CountVersions();
        return base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
    }

    void CountVersions()
    {
        foreach (var row in ChangeTracker.Entries<Kept>())
            if (row.State == EntityState.Modified)
                row.Entity.Version++;
    }

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.Properties<Length>().HaveConversion<NanometresConverter>();
        if (Database.IsSqlite())
            configurationBuilder.Properties<DateTimeOffset>().HaveConversion<UtcTicksConverter>();
        else
            configurationBuilder.Properties<DateTimeOffset>().HaveConversion<UtcConverter>();
    }

    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        modelBuilder.ApplyConfigurationsFromAssembly(typeof(HandwheelDb).Assembly);
        foreach (var type in modelBuilder.Model.GetEntityTypes())
            if (typeof(Kept).IsAssignableFrom(type.ClrType))
            {
                modelBuilder.Entity(type.ClrType).Property(nameof(Kept.Id)).ValueGeneratedNever();
                modelBuilder.Entity(type.ClrType).Property(nameof(Kept.Version)).IsConcurrencyToken();
            }
    }

    sealed class NanometresConverter() : ValueConverter<Length, long>(l => l.Nanometres, n => Length.FromNanometres(n));

    /// <summary>SQLite cannot order a DateTimeOffset; UTC ticks can be ordered.</summary>
    sealed class UtcTicksConverter()
        : ValueConverter<DateTimeOffset, long>(
            t => t.UtcTicks / TimeSpan.TicksPerMicrosecond * TimeSpan.TicksPerMicrosecond,
            ticks => new DateTimeOffset(ticks, TimeSpan.Zero)
        );

    sealed class UtcConverter() : ValueConverter<DateTimeOffset, DateTimeOffset>(t => t.ToUniversalTime(), t => t);
}
