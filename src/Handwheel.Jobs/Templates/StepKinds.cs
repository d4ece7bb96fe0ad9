using System.Collections.Frozen;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Templates;

/// <summary>A kind of step, of which a job may have many: <c>air-cut.tool.*.gauge</c> is the gauge block of every tool.</summary>
/// <param name="Example">How the app words it, for some job.</param>
/// <param name="TakesTitle">The shop may word it anew: the app's wording holds no figure of the job, and it is no signature.</param>
/// <param name="TakesPhoto">A photo can be asked for after it.</param>
public sealed record StepKind(string Name, Phase Phase, string Example, bool TakesTitle, bool TakesPhoto);

/// <summary>The kinds of steps that a template may speak of, read off the step table itself.</summary>
public static class StepKinds
{
    static readonly FrozenDictionary<string, StepKind> ByName = Make().ToFrozenDictionary(k => k.Name);

    /// <summary>In the order in which they are done.</summary>
    public static IReadOnlyList<StepKind> All { get; } = Make();

    public static StepKind? Find(string name) => ByName.GetValueOrDefault(name);

    /// <summary>The kind of the step with this id.</summary>
    public static string Of(string id)
    {
        var parts = id.Split('.');
        return parts switch
        {
            [var phase, "tool", _, .. var rest] => string.Join('.', [phase, "tool", "*", .. rest]),
            [var phase, "offset" or "raised" or "stop" or "seen" or "parameter", ..] => $"{phase}.{parts[1]}.*",
            ["ready", "program", _] => "ready.program.*",
            ["first-piece" or "parking", [>= '0' and <= '9', ..]] => parts[0] + ".*",
            _ => id,
        };
    }

    static List<StepKind> Make()
    {
        var (first, second) = (Rules(1), Rules(2));
        var titles = second.ToLookup(r => Of(r.Id), r => r.Title);
        return
        [
            .. first
                .GroupBy(r => Of(r.Id))
                .Select(g => Kind(g.Key, g.First(), g.Select(r => r.Title).Concat(titles[g.Key]).Distinct().Count())),
        ];
    }

    static StepKind Kind(string name, StepRule rule, int titles) =>
        new(
            name,
            rule.Phase,
            rule.Title,
            titles == 1
                && rule.Takes is not (Takes.Signature or Takes.Nothing or Takes.SupervisorsReason or Takes.OtherWay),
            rule.Takes is not (Takes.Signature or Takes.Nothing) && rule.Phase is not (Phase.Release or Phase.Parking)
        );

    /// <summary>Every step that the table can have, of a job whose figures are all <paramref name="number"/>.</summary>
    static List<StepRule> Rules(int number)
    {
        ProveOutPlan[] plans = [Plan(number, airCut: true, [new(number, "0")]), Plan(number, airCut: false, [])];
        return
        [
            .. plans
                .SelectMany(p => StepTable.For(p, airCutWanted: false).Rules)
                .DistinctBy(r => r.Id)
                .OrderBy(r => r.Phase),
        ];
    }

    static ProveOutPlan Plan(int number, bool airCut, IReadOnlyList<PlannedParameter> parameters)
    {
        var name = number.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var length = Length.From(number, Units.Millimetre);
        var program = ProgramInControl.From(
            name,
            System.Text.Encoding.ASCII.GetBytes($"O{name}\nN{name} G0 X{name}.\n"),
            new Random(1)
        );
        return new()
        {
            Subject = new(
                Guid.Empty,
                Guid.Empty,
                "",
                "",
                [program, program with { Name = name + ".sub" }],
                MachineSha256: name
            )
            {
                Assumed = parameters,
                ProvedBefore = new(Guid.Empty, name, "", DateTimeOffset.UnixEpoch, [new(name, name, name, name)]),
            },
            MachineName = name,
            Units = Units.Millimetre,
            LeastIncrement = Length.From(0.001m, Units.Millimetre),
            Tools =
            [
                new()
                {
                    Key = name,
                    Tool = number,
                    LengthOffset = number,
                    Pocket = number,
                },
            ],
            Registers =
            [
                new(new("G5" + (3 + number).ToString(System.Globalization.CultureInfo.InvariantCulture), "z"), length),
            ],
            AirCut = new(airCut, null, null, airCut ? length : null, airCut ? null : name, []),
            Findings = [new("a" + name, Level.Stop, []), new("b" + name, Level.Check, [])],
            RapidOverride = 1,
            Characteristics = airCut
                ?
                [
                    new Characteristic
                    {
                        Name = name,
                        Nominal = length,
                        Plus = length,
                        Minus = length,
                    },
                ]
                : [],
            DiameterRegisterIsRadius = false,
            Parking = [name],
            Holding = "",
            HoldingDigest = "",
            Rules = new() { SecondPersonAtRestore = true },
        };
    }
}
