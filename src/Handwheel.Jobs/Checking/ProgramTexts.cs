using System.Security.Cryptography;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>The bytes that were followed: the main program and the subprograms in the order they were opened.</summary>
sealed class ProgramTexts
{
    const int BytesShown = 200;

    readonly List<(string Name, byte[] Bytes)> files = [];
    readonly List<SubprogramUse> subprograms = [];

    public ProgramTexts(string name, byte[] main) => files.Add((name, main));

    public byte[] Main => files[0].Bytes;

    /// <summary>Which call led to which file, in the order in which they were opened.</summary>
    public IReadOnlyList<SubprogramUse> Subprograms => subprograms;

    /// <summary>Keeps what <paramref name="find"/> gives, so that its blocks can be quoted.</summary>
    public Func<CalledProgram, byte[]?> Keeping(Func<CalledProgram, FoundProgram?> find) =>
        called =>
        {
            if (find(called) is not { } found)
                return null;
            subprograms.Add(
                new SubprogramUse
                {
                    Called = called.ToString(),
                    File = found.File,
                    Sha256 = Convert.ToHexStringLower(SHA256.HashData(found.Bytes)),
                    Line = called.Line,
                    From = called.File > 0 ? files[called.File].Name : null,
                }
            );
            files.Add((found.File, found.Bytes));
            return found.Bytes;
        };

    /// <summary>File 0 is the main program.</summary>
    public ReadOnlyMemory<byte> Bytes(int file) => file < files.Count ? files[file].Bytes : default;

    /// <summary>Null for the main program, else the subprogram's file.</summary>
    public string? FileName(Where at) => at.File > 0 && at.File < files.Count ? files[at.File].Name : null;

    /// <summary>The block as it stands in the file, without the ends of the line; what cannot be seen is shown with its code.</summary>
    public string Block(Where at)
    {
        if (at.Line == 0 || at.File >= files.Count)
            return "";
        var bytes = files[at.File].Bytes;
        var start = Math.Clamp(at.Start, 0, bytes.Length);
        var length = Math.Clamp(at.Length, 0, bytes.Length - start);
        var block = bytes.AsSpan(start, length).Trim(" \t\0"u8);
        return ProgramListing.Shown(block, BytesShown);
    }
}
