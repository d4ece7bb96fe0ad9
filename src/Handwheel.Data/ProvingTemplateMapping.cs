using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Handwheel.Data;

sealed class ProvingTemplateMapping : IEntityTypeConfiguration<ProvingTemplateVersion>
{
    public void Configure(EntityTypeBuilder<ProvingTemplateVersion> version)
    {
        version.HasKey(v => v.Number);
        version.Property(v => v.Number).ValueGeneratedOnAdd();
        version.Property(v => v.Sha256).HasMaxLength(64);
        version.HasOne<StoredFile>().WithMany().HasForeignKey(v => v.Sha256).OnDelete(DeleteBehavior.Restrict);
        version.HasOne<Machine>().WithMany().HasForeignKey(v => v.MachineId).OnDelete(DeleteBehavior.Restrict);
    }
}
