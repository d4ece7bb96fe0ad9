namespace Handwheel.Jobs.Checking;

/// <summary>A subprogram that was found in a file of its own.</summary>
/// <param name="File">The name that people know the file by, without its folder.</param>
public sealed record FoundProgram(string File, byte[] Bytes);
