using System.CommandLine;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Commands;

/// <summary><c>handwheel check</c>: a program judged against a setup, as text, JSON or SARIF.</summary>
static class CheckCommand
{
    public static Command Make(Screen screen)
    {
        var program = new Argument<string>("PROGRAM") { Description = "The program file." };
        var setup = new Option<string>("--setup")
        {
            Description = "The setup file, handwheel-setup/1.",
            Required = true,
            HelpName = "SETUP",
        };
        var asJson = new Option<bool>("--json") { Description = "Print one JSON document, handwheel-check/1." };
        var asSarif = new Option<bool>("--sarif") { Description = "Print the findings as SARIF 2.1.0." };
        var subprograms = new Option<string>("--subprograms")
        {
            Description = "Look for subprograms below this folder.",
            HelpName = "DIR",
        };
        var blockDelete = new Option<bool>("--block-delete") { Description = "Skip blocks that begin with a slash." };
        var set = ParameterValues.Option();
        var cutting = new Option<string>("--cutting-data")
        {
            Description = "The shop's cutting table, handwheel-cutting/1 (else the built-in one).",
            HelpName = "FILE",
        };
        var limit = new Option<string>("--limit")
        {
            Description = "The largest program file, in MiB or such as 1GiB (256 unless given).",
            HelpName = "SIZE",
        };
        var command = new Command("check")
        {
            program,
            setup,
            asJson,
            asSarif,
            subprograms,
            blockDelete,
            set,
            cutting,
            limit,
        };
        command.SetAction(
            (parsed, stop) =>
            {
                var (json, sarif) = (parsed.GetValue(asJson), parsed.GetValue(asSarif));
                if (json && sarif)
                    throw new InputFault("handwheel check: found both --json and --sarif, expected one of them");
                var bytesMost = parsed.GetValue(limit) is { } size
                    ? InputFiles.Size(size)
                    : new CheckOptions().BytesMost;
                var options = new CheckOptions
                {
                    BlockDelete = parsed.GetValue(blockDelete),
                    BytesMost = bytesMost,
                    Parameters = ParameterValues.Of(parsed.GetValue(set) ?? [], "check"),
                    Subprogram = parsed.GetValue(subprograms) is { } folder
                        ? new SubprogramFolder(folder, bytesMost).Find
                        : null,
                    CuttingTable = parsed.GetValue(cutting) is { } table ? InputFiles.CuttingTable(table) : null,
                    Stop = stop,
                };
                var path = parsed.GetRequiredValue(program);
                var bytes = InputFiles.Program(path, bytesMost);
                var read = InputFiles.Setup(parsed.GetRequiredValue(setup));
                var result = Check.Run(bytes, Path.GetFileName(path), read, options);
                if (json)
                    CheckJson.Write(screen.Out, result);
                else if (sarif)
                    CheckSarif.Write(screen.Out, result, path);
                else
                    new CheckText(screen, result, read.Units).Write();
                var stops = result.Findings.Any(f => f.Level == Level.Stop);
                return Task.FromResult(stops ? CommandLine.DoneWithStop : CommandLine.Done);
            }
        );
        return command;
    }
}
