using System.Text;

namespace Handwheel.Web.Commands;

/// <summary>Where a command writes: results to <paramref name="Out"/>, one sentence of refusal to <paramref name="Error"/>.</summary>
/// <param name="Colour">The output is a terminal that a person looks at.</param>
public sealed record Screen(TextWriter Out, TextWriter Error, bool Colour = false)
{
    /// <summary>The process's own, UTF-8 without a byte order mark.</summary>
    public static Screen OfProcess()
    {
        if (OperatingSystem.IsWindows() && !Console.IsOutputRedirected)
            Console.OutputEncoding = Encoding.UTF8;
        return new(Writer(Console.OpenStandardOutput()), Writer(Console.OpenStandardError()), IsForEyes());
    }

    static StreamWriter Writer(Stream stream) => new(stream, new UTF8Encoding(false)) { NewLine = "\n" };

    static bool IsForEyes() =>
        !Console.IsOutputRedirected
        && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"))
        && Environment.GetEnvironmentVariable("TERM") is not (null or "" or "dumb");

    public string Bold(string text) => Colour ? $"\e[1m{text}\e[0m" : text;

    public string Red(string text) => Colour ? $"\e[1;31m{text}\e[0m" : text;

    public string Yellow(string text) => Colour ? $"\e[1;33m{text}\e[0m" : text;

    public string Grey(string text) => Colour ? $"\e[2m{text}\e[0m" : text;
}
