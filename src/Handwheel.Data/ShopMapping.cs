using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Handwheel.Data;

sealed class ShopMapping : IEntityTypeConfiguration<ShopSettings>, IEntityTypeConfiguration<IdempotencyKey>
{
    public void Configure(EntityTypeBuilder<ShopSettings> settings)
    {
        settings.Property(s => s.Zone).HasMaxLength(60);
        settings.Property(s => s.Paper).HasMaxLength(10);
    }

    public void Configure(EntityTypeBuilder<IdempotencyKey> key)
    {
        key.HasKey(k => k.Key);
        key.Property(k => k.Key).HasMaxLength(100);
        key.HasIndex(k => k.At);
    }
}
