namespace Handwheel.Data;

/// <summary>
/// A row that people may change. <see cref="Version"/> goes up by one with each change and guards against two people
/// changing one row unseen: the second save throws <c>DbUpdateConcurrencyException</c>.
/// </summary>
public abstract class Kept
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public long Version { get; set; } = 1;
}
