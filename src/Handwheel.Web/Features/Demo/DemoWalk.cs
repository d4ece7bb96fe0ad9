using System.Globalization;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Nc;
using Handwheel.Web.Features.ProveOuts;
using Place = Handwheel.Web.SigningIn.Place;

namespace Handwheel.Web.Features.Demo;

/// <summary>
/// Walks a prove-out as a careful setter would whose machine holds what the setup says: every act goes through
/// <see cref="TakeAct"/> and its refusals like anybody's.
/// </summary>
sealed class DemoWalk(TakeAct take, ProveOutReader reader, DemoClock clock)
{
    static readonly Place AtTheMachine = new(null, "Tablet in the aisle", "demo");

    /// <summary>Does open steps in their order until <paramref name="stopBefore"/> is next, or until all are done.</summary>
    public async Task Run(
        ProveOutLog log,
        Func<Phase, DemoPerson> who,
        IReadOnlyDictionary<string, Actor> actors,
        string? stopBefore = null
    )
    {
        while (true)
        {
            var open = (await reader.Open(log.Id))!.ProveOut;
            var next = open.Steps.FirstOrDefault(s => IsOpen(s) && s.Phase != Phase.Parking);
            if (next is null || next.Id == stopBefore)
                return;
            var person = next.Id == "release.signed" ? DemoPeople.Supervisor : who(next.Phase);
            await Do(log, open, ActFor(open, next), person, actors[person.Name]);
        }
    }

    public async Task Do(ProveOutLog log, ProveOut open, Act act, DemoPerson person, Actor by)
    {
        clock.Pass(
            TimeSpan.FromSeconds(
                act is ReadingTyped or FirstPieceMeasured ? 34
                : act.NeedsPin ? 52
                : 21
            )
        );
        var key = string.Create(CultureInfo.InvariantCulture, $"demo-{log.Id:N}-{open.Last}");
        var answer = await take.Run(
            new(log.Id, key, open.Last, act, by, AtTheMachine, ByPassword: true, act.NeedsPin ? person.Pin : null)
        );
        if (answer.Refused is { } refused)
            throw new InvalidOperationException($"The demo's {act.About ?? act.GetType().Name} was refused: {refused}");
    }

    static bool IsOpen(StepView step) => step.State == StepState.Open && step.Takes != Takes.Nothing;

    static Act ActFor(ProveOut open, StepView step) =>
        step.Takes switch
        {
            Takes.Seen => new FindingsSeen(step.Id),
            Takes.Tick or Takes.AgreesOrDiffers => new Ticked(step.Id),
            Takes.TickWithWords => new Ticked(step.Id, WordsFor(step.Id)),
            Takes.Percent => new ReadingTyped(step.Id, step.Phase == Phase.Ready ? "50" : "25"),
            Takes.Reading => new ReadingTyped(step.Id, Shown(open, step)),
            Takes.ProgramLine => Line(open.Plan, step.Id),
            Takes.Measurement => new FirstPieceMeasured(step.Id, Measured(open.Plan, step.Id)),
            Takes.Signature => new Signed(step.Id, step.Id == "release.signed" ? SignedAs.Reviewed : SignedAs.Did),
            _ => throw new InvalidOperationException($"The demo does not know how to do {step.Id}."),
        };

    static string WordsFor(string step) =>
        step == "release.edits" ? "None. Compared with the file." : "Ran to its end, nothing near the clamps.";

    static LineTyped Line(ProveOutPlan plan, string step)
    {
        var index =
            step == "ready.program" ? 0 : int.Parse(step["ready.program.".Length..], CultureInfo.InvariantCulture) - 1;
        var program = plan.Subject.Programs[index];
        return new(step, program.Number, program.AskedBlock);
    }

    /// <summary>A good piece: a little above nominal, inside the tolerance.</summary>
    static string Measured(ProveOutPlan plan, string step)
    {
        var c = plan.Characteristics[int.Parse(step["first-piece.".Length..], CultureInfo.InvariantCulture) - 1];
        var value = c.Nominal + Length.FromNanometres((c.Plus.Nanometres - c.Minus.Nanometres) / 2);
        return value.ToRegisterText(plan.Units);
    }

    /// <summary>What the control or the rule shows on a machine that holds what the setup says.</summary>
    static string Shown(ProveOut open, StepView step)
    {
        var plan = open.Plan;
        var parts = step.Id.Split('.');
        var raise = step.Phase == Phase.AirCut ? plan.AirCut.Suggested ?? Length.Zero : Length.Zero;
        Length value;
        if (step.Id == "ready.table")
            value = plan.TallestThing ?? Length.Zero;
        else if (parts is [_, "tool", var key, "machine-z"])
            value = ToolOf(plan, key).Approach!.MachineZ!.Value + raise;
        else if (parts is [_, "tool", var tool, "length"])
            value = ToolOf(plan, tool).Length ?? Length.Zero;
        else if (parts is [_, "tool", var worn, "wear"])
            value = ToolOf(plan, worn).Wear;
        else
            value = RegisterIn(plan, step.Id) + raise;
        return value.ToRegisterText(plan.Units);
    }

    static PlannedTool ToolOf(ProveOutPlan plan, string key) => plan.Tools.First(t => t.Key == key);

    static Length RegisterIn(ProveOutPlan plan, string step) =>
        plan.Registers.First(r =>
            step.EndsWith($".{r.Register.Name}.{r.Register.Axis}", StringComparison.Ordinal)
        ).Setup
        ?? Length.Zero;
}
