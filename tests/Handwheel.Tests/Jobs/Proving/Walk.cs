using System.Globalization;
using Handwheel.Jobs.Proving;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>People at a machine: a control with its own registers, read as a person reads it, and the prove-out beside it.</summary>
sealed class Walk
{
    readonly Dictionary<string, decimal> control = [];
    readonly DateTimeOffset start;

    public Walk(ProveOutPlan? plan = null, Ledger? ledger = null)
        : this(ProveOut.Replay(plan ?? SmallShop.Plan(), [], ledger ?? Ledger.Empty)) { }

    /// <summary>Goes on from where a prove-out stands; the control holds what the setup says.</summary>
    public Walk(ProveOut from, DateTimeOffset? start = null)
    {
        ProveOut = from;
        this.start = start ?? SmallShop.Morning;
        var plan = from.Plan;
        foreach (var register in plan.Registers)
            control[register.Register.ToString()] = register.Setup!.Value.In(Units.Inch);
        foreach (var tool in plan.Tools)
        {
            control[$"H{tool.Tool} length"] = SmallShop.Length(tool.Tool);
            control[$"H{tool.Tool} wear"] = 0;
        }
    }

    public ProveOut ProveOut { get; private set; }

    /// <summary>What the control's register holds.</summary>
    public decimal this[string register]
    {
        get => control[register];
        set => control[register] = value;
    }

    public StepView Step(string id) => ProveOut.Steps.First(s => s.Id == id);

    public Entry Entry(Act act, Actor by, string tablet = "tablet 1", long? basedOn = null) =>
        new(
            ProveOut.Last + 1,
            start.AddMinutes(ProveOut.Last + 1),
            "Europe/Vienna",
            by,
            tablet,
            basedOn ?? ProveOut.Last,
            act
        );

    public Walk Do(Act act, Actor? by = null)
    {
        var entry = Entry(act, by ?? SmallShop.Setter);
        var reasons = ProveOut.WhyNot(entry);
        Assert.True(reasons.Count == 0, $"{act}: {string.Join(" | ", reasons)}");
        ProveOut = ProveOut.Apply(entry);
        return this;
    }

    public string Refused(Act act, Actor? by = null)
    {
        var reasons = ProveOut.WhyNot(act, by ?? SmallShop.Setter);
        Assert.NotEmpty(reasons);
        Assert.Throws<InvalidOperationException>(() => ProveOut.Apply(Entry(act, by ?? SmallShop.Setter)));
        return string.Join(" ", reasons);
    }

    /// <summary>The server is started anew: all there is comes from the entries again.</summary>
    public void StartAnew(Ledger ledger) => ProveOut = ProveOut.Replay(ProveOut.Plan, ProveOut.Entries, ledger);

    public Walk Begin() => Do(new Begun(ProveOut.Plan.Digest));

    /// <summary>Does every open step rightly, in order, until the one named (not included) or all are done.</summary>
    public Walk Until(string? id = null)
    {
        while (ProveOut.Standing == Standing.UnderWay)
        {
            var next = ProveOut.Steps.FirstOrDefault(s => IsNext(s, id));
            if (next is null || next.Id == id)
                return this;
            Do(
                Right(next),
                next.Takes is Takes.SupervisorsReason or Takes.OtherWay || next.Id == "release.signed"
                        ? SmallShop.Supervisor
                    : next.Id == "restore.witness" ? SmallShop.Operator
                    : SmallShop.Setter
            );
        }
        return this;
    }

    static bool IsNext(StepView step, string? id) =>
        step.Id == id
        || (step.State is StepState.Open or StepState.ReadAgain or StepState.Refused && step.Phase != Phase.Parking);

    /// <summary>What a careful person does; raising and restoring change the control first.</summary>
    public Act Right(StepView step)
    {
        var id = step.Id;
        switch (step.Takes)
        {
            case Takes.Seen:
                return new FindingsSeen(id);
            case Takes.TickWithWords:
                return new Ticked(id, "all as expected");
            case Takes.Nothing or Takes.Tick or Takes.AgreesOrDiffers:
                return new Ticked(id);
            case Takes.Percent:
                return new ReadingTyped(id, step.Shows!.Split(' ')[0]);
            case Takes.Photo:
                return new PhotoAdded(new string('a', 64), id);
            case Takes.ProgramLine:
                var program = ProveOut.Plan.Subject.Programs[0];
                return new LineTyped(id, "1234", program.AskedBlock.ToLowerInvariant());
            case Takes.Measurement:
                return new FirstPieceMeasured(id, id == "first-piece.1" ? "1.0001" : "0.2495");
            case Takes.Signature:
                return new Signed(
                    id,
                    id == "release.signed" ? SignedAs.Reviewed
                        : id == "restore.witness" ? SignedAs.Witnessed
                        : SignedAs.Did
                );
            case Takes.SupervisorsReason:
                return new DeviationSigned(id, "holding is lower than described");
            case Takes.OtherWay:
                return new OtherWaySigned("the part is too tall for this machine");
        }
        if (id.StartsWith("air-cut.raised.", StringComparison.Ordinal) && control["G55 Z"] == -18.125m)
            control["G55 Z"] += RaiseOf(ProveOut);
        if (id is "restore.offset.G55.z" or "put-back.G55.z")
            control["G55 Z"] = -18.125m;
        return new ReadingTyped(id, Shown(id));
    }

    public static decimal RaiseOf(ProveOut proveOut) =>
        decimal.Parse(proveOut.Raise!.Split(' ')[0], NumberStyles.Number, CultureInfo.InvariantCulture);

    /// <summary>What the control shows where the step asks to look.</summary>
    public string Shown(string id)
    {
        var parts = id.Split('.');
        var value = parts switch
        {
            ["ready", "table"] => 0.75m,
            [.., "tool", var key, "machine-z"] => control["G55 Z"]
                + control["common Z"]
                + control[$"H{key} length"]
                + control[$"H{key} wear"]
                + 0.1m,
            [.., "tool", var key, var axis] => control[$"H{key} {axis}"],
            [.., var name, var axis] => control[$"{name} {(axis.Length == 1 ? axis.ToUpperInvariant() : axis)}"],
            _ => throw new ArgumentException(id),
        };
        return value.ToString("F4", CultureInfo.InvariantCulture);
    }
}
