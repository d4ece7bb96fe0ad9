using System.CommandLine;
using System.Text;
using Handwheel.Jobs.Schemas;

namespace Handwheel.Web.Commands;

/// <summary><c>handwheel schema</c>: the published JSON Schema of a format.</summary>
static class SchemaCommand
{
    public static Command Make(Screen screen)
    {
        var format = new Argument<string>("FORMAT") { Description = "setup, check, record or cutting." };
        format.AcceptOnlyFromAmong("setup", "check", "record", "cutting");
        var command = new Command("schema") { format };
        command.SetAction(parsed =>
        {
            var text = SchemaTexts.Find($"handwheel-{parsed.GetRequiredValue(format)}-1.json");
            screen.Out.Write(Encoding.UTF8.GetString(text!));
            return CommandLine.Done;
        });
        return command;
    }
}
