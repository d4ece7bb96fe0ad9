using System.CommandLine;
using System.Security.Cryptography;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Sheets;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Commands;

/// <summary><c>handwheel sheet</c>: the printable setup sheet from a setup and a program, without a database.</summary>
static class SheetCommand
{
    const long ProgramBytesMost = 256L * 1024 * 1024;

    public static Command Make(Screen screen) => Make(screen, TimeProvider.System);

    internal static Command Make(Screen screen, TimeProvider time)
    {
        var setup = new Argument<string>("SETUP") { Description = "The setup file (handwheel-setup/1)." };
        var program = new Option<string>("--program")
        {
            Description = "The program.",
            Required = true,
            HelpName = "PROGRAM",
        };
        var to = new Option<string>("--out")
        {
            Description = "The PDF to write.",
            Required = true,
            HelpName = "SHEET.pdf",
        };
        var paper = new Option<string>("--paper")
        {
            Description = "letter or a4; inch setups are printed on letter unless given.",
        };
        paper.AcceptOnlyFromAmong("letter", "a4");
        var folder = new Option<string>("--subprograms")
        {
            Description = "A folder with subprograms.",
            HelpName = "DIR",
        };
        var cutting = new Option<string>("--cutting-data")
        {
            Description = "The shop's cutting table (else the built-in one).",
            HelpName = "FILE",
        };
        var set = ParameterValues.Option();
        var command = new Command("sheet") { setup, program, to, paper, folder, cutting, set };
        command.SetAction(parsed =>
        {
            var (setupPath, programPath) = (parsed.GetRequiredValue(setup), parsed.GetRequiredValue(program));
            var read = InputFiles.Setup(setupPath);
            var bytes = InputFiles.Program(programPath, ProgramBytesMost);
            var subprograms = parsed.GetValue(folder) is { } dir ? new SubprogramFolder(dir, ProgramBytesMost) : null;
            var assumed = ParameterValues.Of(parsed.GetValue(set) ?? [], "sheet");
            var size = parsed.GetValue(paper) switch
            {
                "a4" => PaperSize.A4,
                "letter" => PaperSize.Letter,
                _ => read.Units == Units.Inch ? PaperSize.Letter : PaperSize.A4,
            };
            var check = Check.Run(
                bytes,
                Path.GetFileName(programPath),
                read,
                new()
                {
                    Subprogram = subprograms is null ? null : subprograms.Find,
                    CuttingTable = parsed.GetValue(cutting) is { } table ? InputFiles.CuttingTable(table) : null,
                    Parameters = assumed,
                }
            );
            var input = new SheetInput
            {
                Setup = read,
                SetupSha256 = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(setupPath))),
                Check = check,
                Path = TipPath.Of(
                    bytes,
                    read,
                    new() { Subprogram = called => subprograms?.Find(called)?.Bytes, Parameters = assumed }
                ),
                Printed = time.GetLocalNow(),
                Paper = size,
                Said =
                [
                    .. assumed
                        .OrderBy(a => a.Key)
                        .Select(a => FormattableString.Invariant($"#{a.Key} = {a.Value}, given to the command")),
                ],
            };
            OutputFiles.Write(parsed.GetRequiredValue(to), SetupSheet.Print(input));
            return Say(screen, parsed.GetRequiredValue(to), check);
        });
        return command;
    }

    static int Say(Screen screen, string path, CheckResult check)
    {
        screen.Out.WriteLine($"Setup sheet written to {path}.");
        var stops = check.Findings.Count(f => f.Level == Level.Stop);
        if (stops == 0)
            return CommandLine.Done;
        screen.Out.WriteLine(
            screen.Red("stop") + $" {stops} finding{(stops == 1 ? "" : "s")}: see the sheet, or handwheel check."
        );
        return CommandLine.DoneWithStop;
    }
}
