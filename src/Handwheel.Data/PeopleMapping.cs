using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Handwheel.Data;

sealed class PeopleMapping
    : IEntityTypeConfiguration<Person>,
        IEntityTypeConfiguration<Tablet>,
        IEntityTypeConfiguration<FailedSignIn>
{
    public void Configure(EntityTypeBuilder<Person> person)
    {
        person.Property(p => p.Name).HasMaxLength(60);
        person.HasIndex(p => p.Name).IsUnique();
    }

    public void Configure(EntityTypeBuilder<Tablet> tablet)
    {
        tablet.Property(t => t.Name).HasMaxLength(60);
        tablet.HasIndex(t => t.Name).IsUnique();
    }

    public void Configure(EntityTypeBuilder<FailedSignIn> failure)
    {
        failure.HasKey(f => f.Number);
        failure.Property(f => f.Number).ValueGeneratedOnAdd();
        failure.HasIndex(f => f.At);
    }
}
