using System.CommandLine;
using System.Globalization;
using System.Reflection;
using System.Text;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Commands;

/// <summary>
/// The commands of the executable. Exit status: 0 done, 1 done and something is at level stop (or not valid, or no match), 2 the
/// input or the command line is wrong, with one sentence on stderr and nothing on stdout.
/// </summary>
public static class CommandLine
{
    public const int Done = 0;
    public const int DoneWithStop = 1;
    public const int Wrong = 2;

    /// <summary>Runs the verb that the arguments name. Null: there is none, and the web app is to be served.</summary>
    public static Task<int?> Run(string[] args) => Run(args, Screen.OfProcess);

    internal static async Task<int?> Run(string[] args, Func<Screen> screenOf)
    {
        if (args is [] or [['-', ..], ..] and not ["--help" or "-h" or "-?" or "--version"])
            return null;
        var screen = screenOf();
        var status = await RunVerb(args, screen);
        await screen.Out.FlushAsync();
        await screen.Error.FlushAsync();
        return status;
    }

    static async Task<int> RunVerb(string[] args, Screen screen)
    {
        if (args[0] is "help" or "--help" or "-h" or "-?")
            return Help(screen);
        if (args[0] == "--version")
        {
            await screen.Out.WriteLineAsync(Version);
            return Done;
        }
        var verb = Array.Find(Verbs.All, v => v.Name == args[0]);
        if (verb is null)
            return await Refuse(screen, "handwheel: " + UnknownVerb(args[0]));
        CultureInfo.CurrentUICulture = CultureInfo.InvariantCulture;
        try
        {
            var parsed = new RootCommand { verb.Make(screen) }.Parse(
                args,
                new ParserConfiguration { EnablePosixBundling = false, ResponseFileTokenReplacer = null }
            );
            var asksForHelp = args.Any(a => a is "--help" or "-h" or "-?");
            if (parsed.Errors.Count > 0 && !asksForHelp)
                return await Refuse(screen, $"handwheel {verb.Name}: {Fault(parsed)}");
            return await parsed.InvokeAsync(
                new InvocationConfiguration
                {
                    Output = screen.Out,
                    Error = screen.Error,
                    EnableDefaultExceptionHandler = false,
                }
            );
        }
        catch (InputFault fault)
        {
            return await Refuse(screen, fault.Message);
        }
        catch (OperationCanceledException)
        {
            return await Refuse(screen, $"handwheel {verb.Name}: stopped before it was done");
        }
    }

    static async Task<int> Refuse(Screen screen, string sentence)
    {
        await screen.Error.WriteLineAsync(sentence.ReplaceLineEndings(" "));
        return Wrong;
    }

    static string UnknownVerb(string found)
    {
        var near = Nearest.To(found, Verbs.All.Select(v => v.Name));
        var hint = near is null ? "" : $" (did you mean \"{near}\"?)";
        return $"found the verb \"{found}\", expected one of {string.Join(", ", Verbs.All.Select(v => v.Name))}{hint}";
    }

    static string Fault(ParseResult parsed)
    {
        if (parsed.UnmatchedTokens is [var found, ..])
        {
            var options = parsed.CommandResult.Command.Options.Select(o => o.Name).ToList();
            var near = found.StartsWith('-') ? Nearest.To(found, options) : null;
            var expected =
                near is not null ? $"a known option: did you mean \"{near}\"?"
                : options.Count > 0 ? "one of the options " + string.Join(", ", options)
                : "nothing more";
            return $"found \"{found}\", expected {expected}";
        }
        foreach (var argument in parsed.CommandResult.Command.Arguments)
            if (argument.Arity.MinimumNumberOfValues > 0 && parsed.GetResult(argument) is not { Tokens.Count: > 0 })
                return $"found no {argument.Name}, expected one: {argument.Description?.TrimEnd('.')}";
        if (parsed.Errors[0].Message.Split('\n', '\r', '\t') is [var head, .. var choices] && choices.Length > 0)
        {
            var among = choices.Select(c => c.Trim().Trim('\'')).Where(c => c.Length > 0);
            var typed = head.Split('\'') is [_, var word, ..] ? word : "";
            return $"found \"{typed}\", expected one of {string.Join(", ", among)}";
        }
        var message = parsed.Errors[0].Message.TrimEnd('.');
        return $"{message}; handwheel {parsed.CommandResult.Command.Name} --help says how it is called";
    }

    static string Version =>
        typeof(CommandLine).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion
        ?? "";

    static int Help(Screen screen)
    {
        var text = new StringBuilder()
            .AppendLine("handwheel: prove out a program that nobody has run yet, without hitting anything.")
            .AppendLine()
            .AppendLine("With no verb it serves the web app. With a verb it is a command:")
            .AppendLine();
        var width = Verbs.All.Max(v => v.Name.Length);
        foreach (var verb in Verbs.All)
            text.Append("  handwheel ").Append(verb.Name.PadRight(width)).Append("  ").AppendLine(verb.Summary);
        text.AppendLine()
            .AppendLine("handwheel VERB --help says what a verb takes.")
            .AppendLine(
                "Exit status: 0 done; 1 done, and something says stop; 2 the input or the command line is wrong."
            );
        screen.Out.Write(text.ToString().ReplaceLineEndings("\n"));
        return Done;
    }
}
