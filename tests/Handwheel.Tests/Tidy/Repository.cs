using System.Runtime.CompilerServices;

namespace Handwheel.Tests.Tidy;

/// <summary>The checkout that these tests were built from.</summary>
static class Repository
{
    public static string Root { get; } = FindRoot();

    static string FindRoot([CallerFilePath] string here = "")
    {
        for (var folder = Path.GetDirectoryName(here); folder is not null; folder = Path.GetDirectoryName(folder))
            if (File.Exists(Path.Combine(folder, "Handwheel.slnx")))
                return folder;
        throw new InvalidOperationException($"no Handwheel.slnx above {here}");
    }

    public static string Read(string path) => File.ReadAllText(Path.Combine(Root, path));

    /// <summary>Files below a folder, as paths from the root with forward slashes; build output is left out.</summary>
    public static IEnumerable<string> Files(string folder, string pattern) =>
        Directory
            .EnumerateFiles(Path.Combine(Root, folder), pattern, SearchOption.AllDirectories)
            .Select(path => Path.GetRelativePath(Root, path).Replace('\\', '/'))
            .Where(path =>
                !path.Contains("/obj/", StringComparison.Ordinal) && !path.Contains("/bin/", StringComparison.Ordinal)
            )
            .Order(StringComparer.Ordinal);
}
