namespace Handwheel.Bench;

/// <summary>A program in a file of its own, deleted at the end.</summary>
sealed class ProgramOnDisk : IDisposable
{
    readonly string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());

    public ProgramOnDisk(byte[] program) => File.WriteAllBytes(path, program);

    /// <summary>Reads it as the command <c>check</c> does.</summary>
    public byte[] Read() => File.ReadAllBytes(path);

    public void Dispose() => File.Delete(path);
}
