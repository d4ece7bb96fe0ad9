using System.Security.Cryptography;
using Handwheel.Jobs.Checking.Clearance;
using Handwheel.Jobs.Checking.Material;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Checking;

/// <summary>Follows a program to its end and judges it against a setup: <c>handwheel check</c>.</summary>
public static class Check
{
    /// <param name="programName">The name that people know the program by; the file's name.</param>
    /// <exception cref="InputFault">The file is empty, too large, not text, or has no readable block.</exception>
    /// <exception cref="OperationCanceledException"><see cref="CheckOptions.Stop"/> was cancelled.</exception>
    public static CheckResult Run(byte[] program, string programName, Setup setup, CheckOptions? options = null)
    {
        options ??= new CheckOptions();
        ProgramFile.Refuse(program, programName, options.BytesMost);
        var digest = Task.Run(() => SHA256.HashData(program));
        var texts = new ProgramTexts(programName, program);
        var facts = new Facts(setup, texts, options, program.Length);
        var run = new CheckRun(facts);
        Follow(program, setup, options, texts, run);
        if (run.BlocksExecuted == 0)
            throw new InputFault(
                programName,
                null,
                null,
                Said.Kept("no readable block"),
                Said.Kept("a program with blocks such as G0 X0 Y0")
            );
        run.Rules.BeforeRaise(run.Totals);
        var raise = RaiseChoice.From(facts);
        run.Rules.Judge(raise, run.Totals);
        NotLookedAt.Say(facts, run.Totals);
        NotLookedAt.SayBeyond(facts.NotChecked, run.StopsBeyond, run.Totals.ToolsBeyond);
        if (!options.BlockDelete && run.Rules.BlockDelete.Seen)
            run.Rules.BlockDelete.Compare(
                run.Totals.ToolUses(facts.Figures, run.Clock.TimeKnown),
                facts.Book.InOrder(),
                WithBlockDelete(program, programName, setup, options)
            );
        return Result(program, programName, digest.GetAwaiter().GetResult(), facts, run, raise);
    }

    /// <summary>The same program with the switch on; null where nothing is left of it.</summary>
    static CheckResult? WithBlockDelete(byte[] program, string programName, Setup setup, CheckOptions options)
    {
        try
        {
            return Run(program, programName, setup, options with { BlockDelete = true });
        }
        catch (InputFault)
        {
            return null;
        }
    }

    static void Follow(byte[] program, Setup setup, CheckOptions options, ProgramTexts texts, CheckRun run)
    {
        var sink = new CheckSink(run);
        var runOptions = new RunOptions
        {
            BlockDelete = options.BlockDelete,
            BlocksMost = options.BlocksMost,
            Subprogram = options.Subprogram is { } find ? texts.Keeping(find) : null,
            Parameters = options.Parameters,
            Feeds = run.Feeds,
            Holes = run.Hole,
            HoleTold = run.HoleTold,
            Stop = options.Stop,
        };
        Interpreter.Run(program, SettingsOf.Control(setup), runOptions, ref sink);
    }

    static CheckResult Result(byte[] program, string name, byte[] digest, Facts facts, CheckRun run, RaiseChoice raise)
    {
        var used = run.Totals.Extents.Select(e => e.WorkOffset).Distinct().Order();
        List<Stop> stops = [];
        foreach (var draft in run.Stops)
            stops.Add(StopReadings.Of(draft, stops.Count + 1, raise, facts));
        return new CheckResult
        {
            Program = new ProgramFacts
            {
                Name = name,
                Sha256 = Convert.ToHexStringLower(digest),
                Bytes = program.Length,
                Lines = ProgramFile.Lines(program),
                BlocksExecuted = run.BlocksExecuted,
                Units = run.ProgramUnits == Units.Inch ? "inch" : "mm",
                FollowedToEnd = run.FollowedToEnd,
                Subprograms = facts.Texts.Subprograms,
                Assumed =
                [
                    .. facts
                        .Options.Parameters.OrderBy(p => p.Key)
                        .Select(p => new AssumedParameter(p.Key, (decimal)p.Value)),
                ],
                AsksFor = facts.AsksFor,
            },
            Tools =
            [
                .. run
                    .Totals.ToolUses(facts.Figures, run.Clock.TimeKnown)
                    .Select(t => t with { Coolant = run.Coolant.Of(t.Tool) }),
            ],
            WorkOffsets = run.Totals.WorkOffsetUses(facts.Figures),
            AirCut = raise.Out(facts, used),
            Stops = stops,
            BlockDelete = new(facts.Options.BlockDelete, run.Rules.BlockDelete.Blocks),
            OperatorStops = run.OperatorStops.Out(),
            Restarts = run.Restarts.Out(run.Rules.Restart.Relied),
            RunTime = new RunTime(run.Clock.Programmed, AirCutTimes.Of(facts.Setup, run.Clock, run.Totals)),
            NearestPasses = [.. run.Rules.Holding.Nearest.Select((n, i) => PassOf(facts, n.Holding, n.Pass, i + 1))],
            Material = MaterialFigures.Of(facts),
            AsCut = AsCutPicture.Of(facts, run.FollowedToEnd),
            CuttingData = facts.Cutting.Used,
            NotChecked = facts.NotChecked.Lines,
            Findings = facts.Book.InOrder(),
        };
    }

    static NearestPass PassOf(Facts facts, int holding, Pass pass, int number)
    {
        var name = facts.Table.Holding[holding].Name;
        var tool = "T" + Figures.Whole(pass.At.Tool);
        var what = pass.OfHolder ? Said.Kept($"The holder of {tool}") : tool;
        var (side, words) = pass switch
        {
            { Distance: < 1 } => ("through", Said.Kept($"{what} goes through {name}")),
            { Beside: < 1000 } => (
                "above",
                Said.Kept($"{what} passes {facts.Figures.Say(pass.Distance)} above {name}")
            ),
            { Above: < 1000 } => (
                "beside",
                Said.Kept($"{what} passes {facts.Figures.Say(pass.Distance)} beside {name}")
            ),
            _ => ("edge", Said.Kept($"{what} passes {facts.Figures.Say(pass.Distance)} from the edge of {name}")),
        };
        var offset = facts.Setup.Holding[holding].WorkOffset;
        var zero = facts.Table.Zero(offset);
        return new NearestPass
        {
            Number = number,
            WorkOffset = offset.ToString(),
            At = new(From(pass.Tip.X, zero.X), From(pass.Tip.Y, zero.Y), From(pass.Tip.Z, zero.Z)),
            Holding = name,
            Tool = pass.At.Tool,
            Line = pass.At.Line,
            File = facts.Texts.FileName(pass.At),
            Block = facts.Texts.Block(pass.At),
            Distance = side == "through" ? 0 : facts.Figures.Out((long)Math.Round(pass.Distance)),
            Side = side,
            Part = pass.OfHolder ? "holder" : "tool",
            Message = Said.Kept($"{words}, at line {Figures.Whole(pass.At.Line)}"),
        };

        decimal From(double place, long? zero) => facts.Figures.Out((long)Math.Round(place) - zero.GetValueOrDefault());
    }
}
