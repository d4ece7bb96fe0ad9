using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Handwheel.Data;

sealed class MachineMapping : IEntityTypeConfiguration<Machine>, IEntityTypeConfiguration<MachineReading>
{
    public void Configure(EntityTypeBuilder<Machine> machine)
    {
        machine.Property(m => m.Name).HasMaxLength(60);
        machine.HasIndex(m => m.Name).IsUnique();
    }

    public void Configure(EntityTypeBuilder<MachineReading> reading)
    {
        reading.HasKey(r => r.Number);
        reading.Property(r => r.Number).ValueGeneratedOnAdd();
        reading.Property(r => r.Register).HasMaxLength(20);
        reading.Property(r => r.Axis).HasMaxLength(20);
        reading.Property(r => r.Units).HasConversion<string>().HasMaxLength(20);
        reading.HasIndex(r => new { r.MachineId, r.Number });
        reading.HasOne<Machine>().WithMany().HasForeignKey(r => r.MachineId).OnDelete(DeleteBehavior.Restrict);
    }
}
