using Handwheel.Jobs.Proving;

namespace Handwheel.Jobs.Records;

/// <summary>Entries and acts as canonical JSON and back. An unknown kind or member is refused.</summary>
public static class EntryJson
{
    public static byte[] Write(Entry entry) => throw new NotSupportedException();

    /// <exception cref="FormatException">Says what was found and what was expected.</exception>
    public static Entry Read(ReadOnlySpan<byte> json) => throw new NotSupportedException();

    public static byte[] WriteAct(Act act) => throw new NotSupportedException();

    /// <exception cref="FormatException">Says what was found and what was expected.</exception>
    public static Act ReadAct(ReadOnlySpan<byte> json) => throw new NotSupportedException();
}
