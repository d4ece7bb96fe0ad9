using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Handwheel.Data;

sealed class ProveOutMapping : IEntityTypeConfiguration<ProveOutLog>, IEntityTypeConfiguration<ProveOutEntry>
{
    public void Configure(EntityTypeBuilder<ProveOutLog> log)
    {
        log.Property(l => l.End).HasConversion<string>().HasMaxLength(20);
        log.Property(l => l.LastHash).HasMaxLength(64);
        log.Property(l => l.Zone).HasMaxLength(60);
        log.HasOne<StoredFile>().WithMany().HasForeignKey(l => l.PlanSha256).OnDelete(DeleteBehavior.Restrict);
        log.HasIndex(l => new { l.MachineId, l.End });
        log.HasOne<Job>().WithMany().HasForeignKey(l => l.JobId).OnDelete(DeleteBehavior.Restrict);
        log.HasOne<Machine>().WithMany().HasForeignKey(l => l.MachineId).OnDelete(DeleteBehavior.Restrict);
    }

    public void Configure(EntityTypeBuilder<ProveOutEntry> entry)
    {
        entry.HasKey(e => new { e.ProveOutId, e.Number });
        entry.Property(e => e.PreviousHash).HasMaxLength(64);
        entry.Property(e => e.Hash).HasMaxLength(64);
        entry.HasOne<ProveOutLog>().WithMany().HasForeignKey(e => e.ProveOutId).OnDelete(DeleteBehavior.Restrict);
    }
}
