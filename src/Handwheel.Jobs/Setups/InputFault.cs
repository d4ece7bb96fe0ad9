namespace Handwheel.Jobs.Setups;

/// <summary>
/// A file, a figure or a command line that cannot be used. <see cref="Exception.Message"/> is one sentence for people: the
/// file, the line or the JSON path, what was found and what was expected.
/// </summary>
public sealed class InputFault : Exception
{
    /// <param name="message">One sentence that says everything.</param>
    public InputFault(string message)
        : base(message)
    {
        Says = message;
    }

    public InputFault(string message, Exception inner)
        : base(message, inner)
    {
        Says = message;
    }

    /// <param name="file">The file's name as the person gave it.</param>
    /// <param name="line">Line in the file, from 1; null where none fits.</param>
    /// <param name="path">JSON path such as <c>tools[2].diameter</c>; null where none fits.</param>
    /// <param name="found">What stands there.</param>
    /// <param name="expected">What should stand there.</param>
    public InputFault(string file, int? line, string? path, string found, string expected)
        : base(Sentence(file, line, path, found, expected))
    {
        Says = $"found {found}, expected {expected}";
        File = file;
        Line = line;
        Path = path;
    }

    /// <summary>The sentence without its place, for beside a field of a form: <c>found 0, expected a number above 0</c>.</summary>
    public string Says { get; }
    public string? File { get; }
    public int? Line { get; }
    public string? Path { get; }

    static string Sentence(string file, int? line, string? path, string found, string expected)
    {
        var where = file;
        if (line is { } number)
            where = Said.Kept($"{where}, line {Checking.Figures.Whole(number)}");
        if (!string.IsNullOrEmpty(path))
            where += ", " + path;
        return Said.Kept($"{where}: found {found}, expected {expected}");
    }
}
