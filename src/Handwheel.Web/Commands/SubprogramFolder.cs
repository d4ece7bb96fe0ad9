using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Web.Commands;

/// <summary>
/// Finds subprograms below a folder, by the rules of <see cref="SubprogramIndex"/>.
/// </summary>
sealed class SubprogramFolder
{
    /// <summary>O-numbers are looked for in the first bytes of a file.</summary>
    const int BytesLookedAt = 64 * 1024;

    readonly long bytesMost;
    readonly SubprogramIndex index = new();

    public SubprogramFolder(string folder, long bytesMost)
    {
        this.bytesMost = bytesMost;
        if (!Directory.Exists(folder))
            throw new InputFault(
                folder,
                null,
                null,
                File.Exists(folder) ? "a file" : "no such folder",
                "a folder of subprograms (--subprograms)"
            );
        try
        {
            var files = Directory.EnumerateFiles(
                folder,
                "*",
                new EnumerationOptions
                {
                    RecurseSubdirectories = true,
                    IgnoreInaccessible = true,
                    MaxRecursionDepth = 8,
                }
            );
            foreach (var file in files.Order(StringComparer.Ordinal))
                Add(file);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new InputFault(
                $"{folder}: found a folder that cannot be read ({fault.Message.TrimEnd('.')}), expected a folder of subprograms",
                fault
            );
        }
    }

    void Add(string file)
    {
        using var stream = File.OpenRead(file);
        var start = new byte[BytesLookedAt];
        var length = stream.ReadAtLeast(start, start.Length, throwOnEndOfStream: false);
        index.Add(file, start.AsSpan(0, length));
    }

    /// <summary>Null where no file has it.</summary>
    public FoundProgram? Find(CalledProgram called)
    {
        var files = index.Find(called);
        if (files.Count > 1)
            throw new InputFault(
                $"{files[1]}: found {called} a second time (also in {files[0]}), expected it in one file"
            );
        return files is [var file] ? new(Path.GetFileName(file), InputFiles.Program(file, bytesMost)) : null;
    }
}
