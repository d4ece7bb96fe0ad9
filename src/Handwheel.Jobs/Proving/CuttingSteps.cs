using System.Globalization;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>First cut, first piece and release.</summary>
static class CuttingSteps
{
    public static IEnumerable<StepRule> FirstCut(ProveOutPlan plan, IReadOnlyList<string> after)
    {
        var cards = plan.Tools.SelectMany(t => Card(t, after)).ToList();
        StepRule cut = new()
        {
            Id = "first-cut.cut",
            Phase = Phase.FirstCut,
            Card = "First piece",
            Title = "The first piece is cut",
            Where = "The whole run",
            Why = "Only a piece that was cut can be measured.",
            Takes = Takes.Tick,
            After = [.. after, .. cards.Select(c => c.Id)],
            Follows = [.. cards.Select(c => c.Id)],
            Notes = AirCutSteps.ToWatch(plan),
            CanDeviate = false,
        };
        return StepTable.Ended(
            [.. cards, cut],
            plan,
            Phase.FirstCut,
            "first-cut",
            "Every tool has touched material as expected."
        );
    }

    static IEnumerable<StepRule> Card(PlannedTool tool, IReadOnlyList<string> after)
    {
        var card = new Cards(tool, Phase.FirstCut, "first-cut", after);
        string[] proved = [$"ready.tool.{tool.Key}", $"ready.tool.{tool.Key}.length", $"ready.tool.{tool.Key}.wear"];
        yield return card.Step(
            "machine-z",
            Takes.Reading,
            "Machine Z at the end of the approach, at the true height",
            tool.Approach is { } a
                ? AirCutSteps.At("Position page, machine coordinates", a)
                : "Position page, machine coordinates",
            "A raise still in the register, or another tool's length, shows here before the tool cuts.",
            [Ground.Tool(tool.Key), .. card.Baselines("z")]
        ) with
        {
            Blind = true,
            Expects = Expects.MachineZ,
            Follows = proved,
            Notes = tool.Again,
            Cautions = ["Single block on, lowest rapid, thumb on feed hold."],
        };
        yield return card.Step(
            "entry",
            Takes.AgreesOrDiffers,
            "The tool entered the material where it should",
            tool.Entry is { } e
                ? AirCutSteps.At("The first feed move below the top of the stock", e)
                : "The first feed move into the stock",
            "A wrong depth shows at the entry, while feed hold still helps.",
            [
                Ground.ToolCutting(tool.Key),
                Ground.Tool(tool.Key),
                .. card.Baselines("x"),
                .. card.Baselines("y"),
                .. card.Baselines("z"),
                Ground.Holding,
            ]
        ) with
        {
            Follows = proved,
        };
    }

    public static IEnumerable<StepRule> FirstPiece(ProveOutPlan plan)
    {
        var steps = plan.Characteristics.Select((c, i) => Measured(plan, c, i)).ToList();
        if (steps.Count == 0)
            steps.Add(
                new()
                {
                    Id = "first-piece.measured",
                    Phase = Phase.FirstPiece,
                    Card = "First piece",
                    Title = "The first piece is measured against the drawing",
                    Where = "Before unclamping where it can be; write what was measured",
                    Why = "The program can be right and the piece wrong.",
                    Takes = Takes.TickWithWords,
                    After = ["first-cut.signed"],
                    Follows = ["first-cut.cut"],
                }
            );
        return StepTable.Ended(steps, plan, Phase.FirstPiece, "first-piece", "The piece is what the drawing says.");
    }

    static StepRule Measured(ProveOutPlan plan, Characteristic characteristic, int index) =>
        new()
        {
            Id = string.Create(CultureInfo.InvariantCulture, $"first-piece.{index + 1}"),
            Phase = Phase.FirstPiece,
            Card = "First piece",
            Title = "Measure: " + characteristic.Name,
            Where =
                (characteristic.Instrument.Length > 0 ? characteristic.Instrument + "; " : "")
                + "before unclamping where it can be",
            Why = "What is out is corrected in a register before the next piece, with the right sign.",
            Takes = Takes.Measurement,
            Characteristic = index,
            After = ["first-cut.signed"],
            Follows = ["first-cut.cut"],
            Notes = [Limits(plan.Units, characteristic)],
        };

    public static string Limits(Units units, Characteristic c)
    {
        var text = c.Nominal.ToRegisterText(units);
        return c.Plus == c.Minus
            ? $"{text} ± {c.Plus.ToRegisterText(units)} {units.Symbol()}"
            : $"{text} +{c.Plus.ToRegisterText(units)} −{c.Minus.ToRegisterText(units)} {units.Symbol()}";
    }

    public static IEnumerable<StepRule> Release(ProveOutPlan plan)
    {
        yield return new()
        {
            Id = "release.edits",
            Phase = Phase.Release,
            Card = "Release",
            Title = "Every edit at the machine is recorded, or there was none, and the programmer is told",
            Where = "Edits of this prove-out; or save the program from the control and compare it",
            Why = "An edit that nobody wrote down is lost with the next revision.",
            Takes = Takes.TickWithWords,
            After = ["first-piece.signed"],
            RestsOn = [Ground.Program],
            Follows = ["first-cut.cut"],
        };
        var extra = ShopSteps
            .WithPhotos(plan, ShopSteps.Extra(plan, Phase.Release, "release", ["first-piece.signed"]))
            .ToList();
        foreach (var step in extra)
            yield return step;
        yield return new()
        {
            Id = "release.signed",
            Phase = Phase.Release,
            Card = "Release",
            Title = "A supervisor has reviewed the record and releases the job",
            Where = "The record",
            Why = "Somebody who answers for it has seen every step, deviation and edit.",
            Takes = Takes.Signature,
            Signature = SignedAs.Reviewed,
            After = ["release.edits", .. extra.Select(e => e.Id)],
            CanDeviate = false,
        };
    }
}
