using System.Globalization;
using System.Text.RegularExpressions;

namespace Handwheel.Web.Features.Paper;

/// <summary>
/// What a code on paper says: which job or prove-out, and from which program, setup or entry it was printed. Reading one opens
/// nothing and changes nothing; what it leads to is always a page of this server, whatever address the code holds.
/// </summary>
public abstract partial record PaperCode
{
    /// <summary>More characters than any code of ours has.</summary>
    public const int Longest = 512;

    /// <summary>Digits of a digest that are printed to be compared by eye, and typed where no camera reads the code.</summary>
    public const int TypedDigits = 12;

    /// <summary>A setup sheet.</summary>
    /// <param name="Job">The job's number; null: the code does not say.</param>
    /// <param name="Program">The first digits of the program's SHA-256, lower case; empty: the code does not say.</param>
    /// <param name="Setup">The same of the setup.</param>
    public sealed record Sheet(int? Job, string Program, string Setup) : PaperCode;

    /// <summary>A handoff page or a record.</summary>
    /// <param name="Head">The first digits of the hash of entry <paramref name="Entry"/>, lower case.</param>
    public sealed record Log(Guid ProveOut, long Entry, string Head) : PaperCode;

    /// <summary>The first digits of some digest that stands on the paper, lower case: typed by a person, or on labels.</summary>
    public sealed record Digits(string First) : PaperCode;

    /// <summary>Not a code of this shop.</summary>
    public sealed record NotOurs(string Why) : PaperCode;

    /// <param name="isThisServer">Whether a host in a link means this server.</param>
    public static PaperCode Read(string? text, Func<string, bool> isThisServer)
    {
        var code = (text ?? "").Trim();
        if (code.Length == 0)
            return new NotOurs(Said.In("There is nothing in it."));
        if (code.Length > Longest)
            return new NotOurs(Said.In($"It holds more than {Longest} characters, and no code of this shop does."));
        if (SheetForm().Match(code) is { Success: true } sheet)
            return new Sheet(null, Lower(sheet, "program"), Lower(sheet, "setup"));
        if (LabelsForm().Match(code) is { Success: true } labels)
            return new Digits(Lower(labels, "setup"));
        if (LogForm().Match(code) is { Success: true } log)
            return LogOf(log);
        if (Typed(code) is { } digits)
            return new Digits(digits);
        if (!Uri.TryCreate(code, UriKind.Absolute, out var link))
            return new NotOurs(Said.In("It is not a code that this app prints."));
        if (link.Scheme is not ("http" or "https"))
            return new NotOurs(Said.In("It is not a link to a page, and it was not followed."));
        if (!isThisServer(link.Host))
            return new NotOurs(
                Said.In(
                    $"It leads to {link.Host}, which is not this server, and it was not followed. On paper that this server printed under an address it no longer has, the digits at the foot of the page still count: type them."
                )
            );
        return OfPath(link);
    }

    /// <summary>The path that is printed for a sheet of a job.</summary>
    public static string PathFor(int job, string program, string setup) =>
        string.Create(CultureInfo.InvariantCulture, $"/paper/{job}/{program[..TypedDigits]}-{setup[..TypedDigits]}");

    /// <summary>The path that is printed for a page about a prove-out as it stood at an entry.</summary>
    public static string PathFor(Guid proveOut, long entry, string head) =>
        string.Create(CultureInfo.InvariantCulture, $"/paper/{proveOut:N}/{entry}-{head[..TypedDigits]}");

    static PaperCode OfPath(Uri link)
    {
        if (link.Query.Length > 0 || link.Fragment.Length > 0 || link.UserInfo.Length > 0)
            return new NotOurs(Said.In("It leads to this server, but not to paper that it printed."));
        if (JobPath().Match(link.AbsolutePath) is { Success: true } job && NumberOf(job) is { } number)
            return new Sheet(number, Lower(job, "program"), Lower(job, "setup"));
        if (LogPath().Match(link.AbsolutePath) is { Success: true } log)
            return LogOf(log);
        return new NotOurs(Said.In("It leads to this server, but not to paper that it printed."));
    }

    static int? NumberOf(Match match) =>
        int.TryParse(match.Groups["job"].ValueSpan, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            ? number
            : null;

    static PaperCode LogOf(Match match) =>
        Guid.TryParse(match.Groups["log"].ValueSpan, out var id)
        && long.TryParse(
            match.Groups["entry"].ValueSpan,
            NumberStyles.None,
            CultureInfo.InvariantCulture,
            out var entry
        )
            ? new Log(id, entry, Lower(match, "head"))
            : new NotOurs(Said.In("It is not a code that this app prints."));

    static string? Typed(string text)
    {
        var digits = text.Replace(" ", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal);
        return digits.Length is >= TypedDigits and <= 64 && digits.All(char.IsAsciiHexDigit)
            ? digits.ToLowerInvariant()
            : null;
    }

    static string Lower(Match match, string group) => match.Groups[group].Value.ToLowerInvariant();

    const int MatchMilliseconds = 1000;

    [GeneratedRegex(
        @"^HANDWHEEL:SHEET P:(?<program>[0-9A-F]{12,64}) S:(?<setup>[0-9A-F]{12,64})$",
        RegexOptions.ExplicitCapture,
        MatchMilliseconds
    )]
    private static partial Regex SheetForm();

    [GeneratedRegex(@"^HANDWHEEL:LABELS S:(?<setup>[0-9A-F]{12,64})$", RegexOptions.ExplicitCapture, MatchMilliseconds)]
    private static partial Regex LabelsForm();

    [GeneratedRegex(
        @"^HANDWHEEL:(HANDOFF|RECORD) (?<log>[0-9A-F-]{36}) (?<entry>[0-9]{1,18}) (?<head>[0-9A-F]{12,64})$",
        RegexOptions.ExplicitCapture,
        MatchMilliseconds
    )]
    private static partial Regex LogForm();

    [GeneratedRegex(
        @"^/(jobs/(?<job>[0-9]{1,9})|paper/(?<job>[0-9]{1,9})/(?<program>[0-9a-f]{12})-(?<setup>[0-9a-f]{12}))$",
        RegexOptions.ExplicitCapture,
        MatchMilliseconds
    )]
    private static partial Regex JobPath();

    [GeneratedRegex(
        @"^/paper/(?<log>[0-9a-f]{32})/(?<entry>[0-9]{1,18})-(?<head>[0-9a-f]{12})$",
        RegexOptions.ExplicitCapture,
        MatchMilliseconds
    )]
    private static partial Regex LogPath();
}
