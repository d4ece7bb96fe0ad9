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
            Card = Said.In("First piece"),
            Title = Said.In("The first piece is cut"),
            Where = Said.In("The whole run"),
            Why = Said.In("Only a piece that was cut can be measured."),
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
            Said.In("Every tool has touched material as expected.")
        );
    }

    static IEnumerable<StepRule> Card(PlannedTool tool, IReadOnlyList<string> after)
    {
        var card = new Cards(tool, Phase.FirstCut, "first-cut", after);
        string[] proved = [$"ready.tool.{tool.Key}", $"ready.tool.{tool.Key}.length", $"ready.tool.{tool.Key}.wear"];
        yield return card.Step(
            "machine-z",
            Takes.Reading,
            Said.In("Machine Z at the end of the approach, at the true height"),
            tool.Approach is { } a
                ? AirCutSteps.At(Said.In("Position page, machine coordinates"), a)
                : Said.In("Position page, machine coordinates"),
            Said.In("A raise still in the register, or another tool's length, shows here before the tool cuts."),
            [Ground.Tool(tool.Key), .. card.Baselines("z")]
        ) with
        {
            Blind = true,
            Expects = Expects.MachineZ,
            Follows = proved,
            Notes = [.. tool.Again.Select(Said.Again)],
            Cautions = [Said.In("Single block on, lowest rapid, thumb on feed hold.")],
        };
        yield return card.Step(
            "entry",
            Takes.AgreesOrDiffers,
            Said.In("The tool entered the material where it should"),
            tool.Entry is { } e
                ? AirCutSteps.At(Said.In("The first feed move below the top of the stock"), e)
                : Said.In("The first feed move into the stock"),
            Said.In("A wrong depth shows at the entry, while feed hold still helps."),
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
                    Card = Said.In("First piece"),
                    Title = Said.In("The first piece is measured against the drawing"),
                    Where = Said.In("Before unclamping where it can be; write what was measured"),
                    Why = Said.In("The program can be right and the piece wrong."),
                    Takes = Takes.TickWithWords,
                    After = ["first-cut.signed"],
                    Follows = ["first-cut.cut"],
                }
            );
        return StepTable.Ended(
            steps,
            plan,
            Phase.FirstPiece,
            "first-piece",
            Said.In("The piece is what the drawing says.")
        );
    }

    static StepRule Measured(ProveOutPlan plan, Characteristic characteristic, int index) =>
        new()
        {
            Id = string.Create(CultureInfo.InvariantCulture, $"first-piece.{index + 1}"),
            Phase = Phase.FirstPiece,
            Card = Said.In("First piece"),
            Title = Said.In("Measure: ") + characteristic.Name,
            Where =
                (characteristic.Instrument.Length > 0 ? characteristic.Instrument + "; " : "")
                + Said.In("before unclamping where it can be"),
            Why = Said.In("What is out is corrected in a register before the next piece, with the right sign."),
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
            Card = Said.In("Release"),
            Title = Said.In("Every edit at the machine is recorded, or there was none, and the programmer is told"),
            Where = Said.In("Edits of this prove-out; or save the program from the control and compare it"),
            Why = Said.In("An edit that nobody wrote down is lost with the next revision."),
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
            Card = Said.In("Release"),
            Title = Said.In("A supervisor has reviewed the record and releases the job"),
            Where = Said.In("The record"),
            Why = Said.In("Somebody who answers for it has seen every step, deviation and edit."),
            Takes = Takes.Signature,
            Signature = SignedAs.Reviewed,
            After = ["release.edits", .. extra.Select(e => e.Id)],
            CanDeviate = false,
        };
    }
}
