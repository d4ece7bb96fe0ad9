using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Handwheel.Data;

sealed class JobMapping
    : IEntityTypeConfiguration<Job>,
        IEntityTypeConfiguration<JobFile>,
        IEntityTypeConfiguration<JobParameter>,
        IEntityTypeConfiguration<StoredFile>
{
    public void Configure(EntityTypeBuilder<Job> job)
    {
        job.HasIndex(j => j.Number).IsUnique();
        job.HasOne<Machine>().WithMany().HasForeignKey(j => j.MachineId).OnDelete(DeleteBehavior.Restrict);
        job.HasMany(j => j.Files).WithOne().HasForeignKey(f => f.JobId).OnDelete(DeleteBehavior.Restrict);
        job.HasMany(j => j.Parameters).WithOne().HasForeignKey(p => p.JobId).OnDelete(DeleteBehavior.Restrict);
    }

    public void Configure(EntityTypeBuilder<JobParameter> parameter)
    {
        parameter.Property(p => p.Id).ValueGeneratedNever();
        parameter.Property(p => p.Typed).HasMaxLength(20);
        parameter.Property(p => p.From).HasMaxLength(200);
    }

    public void Configure(EntityTypeBuilder<JobFile> file)
    {
        file.Property(f => f.Id).ValueGeneratedNever();
        file.Property(f => f.Kind).HasConversion<string>().HasMaxLength(20);
        file.Property(f => f.Name).HasMaxLength(200);
        file.HasOne<StoredFile>().WithMany().HasForeignKey(f => f.Sha256).OnDelete(DeleteBehavior.Restrict);
    }

    public void Configure(EntityTypeBuilder<StoredFile> file)
    {
        file.HasKey(f => f.Sha256);
        file.Property(f => f.Sha256).HasMaxLength(64);
    }
}
