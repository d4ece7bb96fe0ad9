using System.CommandLine;
using System.Security.Cryptography;
using Handwheel.Nc;
using Handwheel.Web.Sheets;

namespace Handwheel.Web.Commands;

/// <summary><c>handwheel labels</c>: labels for tool holders from a setup, without a database.</summary>
static class LabelsCommand
{
    public static Command Make(Screen screen) => Make(screen, TimeProvider.System);

    internal static Command Make(Screen screen, TimeProvider time)
    {
        var setup = new Argument<string>("SETUP") { Description = "The setup file (handwheel-setup/1)." };
        var to = new Option<string>("--out")
        {
            Description = "The PDF to write.",
            Required = true,
            HelpName = "LABELS.pdf",
        };
        var paper = new Option<string>("--paper")
        {
            Description = "letter or a4; inch setups are printed on letter unless given.",
        };
        paper.AcceptOnlyFromAmong("letter", "a4");
        var command = new Command("labels") { setup, to, paper };
        command.SetAction(parsed =>
        {
            var path = parsed.GetRequiredValue(setup);
            var read = InputFiles.Setup(path);
            var labels = ToolLabels.Print(
                new()
                {
                    Setup = read,
                    SetupSha256 = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(path))),
                    Printed = time.GetLocalNow(),
                    Paper = parsed.GetValue(paper) switch
                    {
                        "a4" => PaperSize.A4,
                        "letter" => PaperSize.Letter,
                        _ => read.Units == Units.Inch ? PaperSize.Letter : PaperSize.A4,
                    },
                }
            );
            OutputFiles.Write(parsed.GetRequiredValue(to), labels);
            screen.Out.WriteLine($"{read.Tools.Count} labels written to {parsed.GetRequiredValue(to)}.");
            return CommandLine.Done;
        });
        return command;
    }
}
