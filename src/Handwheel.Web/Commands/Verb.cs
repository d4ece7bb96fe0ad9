using System.CommandLine;

namespace Handwheel.Web.Commands;

/// <summary>A verb of the command line; its command is made only when it is asked for.</summary>
sealed record Verb(string Name, string Summary, Func<Screen, Command> MakeCommand)
{
    public Command Make(Screen screen)
    {
        var command = MakeCommand(screen);
        command.Description ??= Summary;
        return command;
    }
}
