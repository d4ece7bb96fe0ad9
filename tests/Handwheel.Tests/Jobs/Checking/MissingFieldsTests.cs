using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>
/// Nothing is passed over in silence: each field of a full setup is taken away in turn. Then either it is required, or nothing rests on it, or
/// the check says what it did not check, or it finds something, or what an absent field means is written down here.
/// </summary>
public sealed class MissingFieldsTests
{
    const string Setup = """
        {
          "format": "handwheel-setup/1", "units": "inch",
          "machine": {
            "name": "Mill 2",
            "travel": { "x": [-40, 0], "y": [-20, 0], "z": [-25, 0] },
            "reference": { "x": 0, "y": 0, "z": 0 }, "secondReference": { "x": -20, "y": 0, "z": 0 }, "toolChangeZ": -1,
            "harmless": ["M41"], "suppressesHolds": ["M49"],
            "rapid": { "x": 1000, "y": 1000, "z": 800 }, "acceleration": { "x": 100, "y": 100, "z": 80 }, "cornerTolerance": 0.002,
            "rapidPath": "straight", "maxFeed": 500, "maxSpindle": 10000, "toolChangeSeconds": 5, "leastIncrement": 0.00005,
            "airCutRates": [ { "cut": 150, "rapid": 150 } ],
            "reads": {
              "arcCentres": "incremental", "arcTolerance": 0.0006, "wholeNumbers": "increments", "dwellP": "seconds", "subprogramCall": "Q",
              "peckRetract": 0.02, "peckClearance": 0.05, "lengthOffsetOnToolChange": "cancel", "lengthOffsetMoves": "atOnce",
              "referenceReturnCancelsLength": true, "toolChangeRetracts": false, "diameterRegister": "radius",
              "compensationEntry": "tangent", "compensationCorners": "lines", "compensationInside": "meet", "compensationExit": "centre", "fix": "down", "logic": "truth"
            }
          },
          "workOffsets": { "G54": { "x": -20, "y": -10, "z": -18, "zero": "corner", "foundBy": "edge finder" } },
          "commonOffset": { "x": 0.5, "y": 0.25, "z": 0.125 },
          "tools": [
            { "tool": 1, "pocket": 4, "kind": "bull end mill", "description": "1/2", "material": "carbide", "diameter": 0.5, "cornerRadius": 0.03,
              "hand": "left", "flutes": 4, "fluteLength": 1.25, "stickout": 1.75, "stickoutLeast": 1.7, "stickoutMost": 1.8, "lengthOffset": 1, "length": 5, "lengthWear": 0.01,
              "diameterOffset": 1, "diameterValue": 0.25, "diameterWear": 0.001, "alsoLengthOffsets": [11], "alsoDiameterOffsets": [11],
              "holder": [ { "diameter": 1.75, "length": 2.5 } ] },
            { "tool": 2, "pocket": 2, "kind": "drill", "description": "jobber", "material": "HSS", "diameter": 0.25, "flutes": 2, "fluteLength": 2.0,
              "stickout": 3, "lengthOffset": 2, "length": 6, "holder": [ { "diameter": 1, "length": 2 } ] },
            { "tool": 3, "pocket": 3, "kind": "tap", "description": "1/4-20", "diameter": 0.25, "flutes": 3, "fluteLength": 1.0, "stickout": 2.5,
              "pitch": 0.05, "floating": true, "lengthOffset": 3, "length": 5.5, "holder": [ { "diameter": 1, "length": 2 } ] }
          ],
          "stock": { "workOffset": "G54", "material": "aluminium", "parallels": "a pair", "min": { "x": -1, "y": -1, "z": -1 }, "max": { "x": 2, "y": 2, "z": 0 } },
          "holding": [
            { "name": "clamp", "shape": "box", "workOffset": "G54", "min": { "x": 4, "y": 0, "z": -1 }, "max": { "x": 5, "y": 1, "z": 0.5 }, "torque": "30 lbf·ft" },
            { "name": "stud", "shape": "cylinder", "workOffset": "G54", "centre": { "x": 6, "y": 0 }, "diameter": 0.5, "bottom": -1, "top": 0.6 }
          ],
          "airCut": { "clearance": 0.5, "raiseStep": 0.5, "rapidOverride": 0.25, "maximumRaise": 3 },
          "rules": { "lengthOffsetMatchesTool": false, "approachClearance": 0.1, "materialGrid": 0.02, "wet": true },
          "job": { "part": "p", "operation": "10", "revision": "A", "notes": "n" },
          "characteristics": [ { "name": "bore", "nominal": 1, "plus": 0.001, "minus": 0.001, "instrument": "gauge", "kind": "diameter", "side": "inside", "tool": 1, "workOffset": "G54", "axis": "x" } ],
          "parking": [ "table clean" ]
        }
        """;

    const string Program = """
        %
        O1
        G20 G90 G17 G40 G49 G80
        M41
        M49
        T1 M6
        G54 G0 X-3. Y0.5 S5000 M4
        G43 H1 Z1.
        G0 Z-0.2
        G1 G41 D1 X-2. F40.
        X1.
        G3 X1.5 Y1. I0. J0.5
        G1 Y1.5
        G40 X-3.
        G0 Z1.
        G91 G28 Z0
        G90
        G0 G53 Z0
        T2 M6
        G54 G0 X0. Y0. S4000 M3
        G43 H2 Z1.
        G99 G83 X0.5 Y-0.5 Z-0.8 R0.1 Q0.2 F16.
        G73 X1.5 Y-0.5 Z-0.5 R0.1 Q0.2
        G80
        G4 P1
        M98 Q100
        G30 Z1.
        G0 G53 Z0
        T3 M6
        G54 G0 X0.5 Y-0.5 S500 M3
        G43 H3 Z1. M8
        G84 Z-0.5 R0.2 F25.
        G80
        #1 = FIX[-1.5]
        IF [#1 EQ -2 AND 1] GOTO 7
        G0 X1
        N7 G0 Z1. M9
        G53 G0 Z0
        M30
        O100
        G0 X0.25 Y1
        M99
        %
        """;

    /// <summary>Fields whose absence has a meaning of its own, in the contract's words or the schema's; the check then goes by that meaning.</summary>
    static readonly Dictionary<string, string> Meanings = new(StringComparer.Ordinal)
    {
        ["machine.toolChangeZ"] = "absent: the upper Z travel",
        ["machine.suppressesHolds"] = "a list: no code does that",
        ["machine.cornerTolerance"] = "absent: corners cost nothing",
        ["machine.toolChangeSeconds"] = "absent: 0",
        ["machine.leastIncrement"] = "absent: 0.0001 in or 0.001 mm",
        ["machine.airCutRates"] = "a list: no time is asked for",
        ["machine.reads.dwellP"] = "absent: milliseconds",
        ["machine.reads.peckRetract"] = "absent: 0",
        ["machine.reads.peckClearance"] = "absent: 0",
        ["machine.reads.compensationEntry"] = "absent: square",
        ["machine.reads.compensationCorners"] = "absent: arc",
        ["machine.reads.compensationExit"] = "absent: programmed",
        ["commonOffset"] = "absent: 0",
        ["commonOffset.x"] = "an axis left out is 0",
        ["commonOffset.y"] = "an axis left out is 0",
        ["commonOffset.z"] = "an axis left out is 0",
        ["machine.reads.diameterRegister"] = "absent: diameter",
        ["tools.0.stickoutLeast"] = "absent: the stick-out",
        ["tools.0.lengthWear"] = "absent: 0",
        ["tools.0.diameterWear"] = "absent: 0",
        ["airCut"] = "absent: as each of its fields",
        ["airCut.clearance"] = "absent: 1 in or 25 mm",
        ["airCut.rapidOverride"] = "absent: 1",
        ["rules.materialGrid"] = "absent: 0.5 mm",
        ["rules.wet"] = "absent: nothing is said about coolant",
    };

    static CheckResult Run(string setup) =>
        Check.Run(
            Encoding.UTF8.GetBytes(Program),
            "test.nc",
            SetupFile.Read(Encoding.UTF8.GetBytes(setup), "test.setup.json")
        );

    static readonly CheckResult Whole = Run(Setup);

    public static TheoryData<string> Paths() => [.. PathsIn(JsonNode.Parse(Setup)!, "")];

    static IEnumerable<string> PathsIn(JsonNode node, string path)
    {
        if (node is JsonObject fields)
            foreach (var (name, value) in fields)
            {
                var inside = path.Length == 0 ? name : path + "." + name;
                yield return inside;
                foreach (var deeper in PathsIn(value!, inside))
                    yield return deeper;
            }
        else if (node is JsonArray items)
            for (var i = 0; i < items.Count; i++)
                foreach (var deeper in PathsIn(items[i]!, $"{path}.{i}"))
                    yield return deeper;
    }

    static string Without(string path)
    {
        var document = JsonNode.Parse(Setup)!;
        var steps = path.Split('.');
        var at = steps[..^1]
            .Aggregate(
                document,
                (n, step) =>
                    n is JsonArray list
                        ? list[int.Parse(step, System.Globalization.CultureInfo.InvariantCulture)]!
                        : n[step]!
            );
        ((JsonObject)at).Remove(steps[^1]);
        return document.ToJsonString();
    }

    [Fact]
    public void The_program_runs_to_its_end_with_everything_given()
    {
        Assert.True(Whole.Program.FollowedToEnd);
        Assert.DoesNotContain(Whole.Findings, f => f.Id is "cannot-follow" or "cannot-read");
        Assert.NotEmpty(Whole.Material);
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void A_field_that_is_missing_is_required_or_needed_by_nothing_or_said(string path)
    {
        CheckResult result;
        try
        {
            result = Run(Without(path));
        }
        catch (InputFault fault)
        {
            Assert.Contains(path.Split('.')[^1], fault.Message, StringComparison.Ordinal);
            return;
        }
        var said = result.NotChecked.Except(Whole.NotChecked, StringComparer.Ordinal).Any();
        var found = result.Findings.Any(f =>
            f.Level > Level.Note && !Whole.Findings.Any(w => w.Id == f.Id && w.Message == f.Message)
        );
        var meaning = Meanings.GetValueOrDefault(path);
        Assert.True(
            said || found || Same(result) || meaning is not null,
            $"without {path} the check differs, and says nothing of it"
        );
        Assert.False(
            meaning is not null && said,
            $"{path} is said to be missing, and its absence has a meaning as well"
        );
    }

    static bool Same(CheckResult result) => Text(result) == Text(Whole);

    static string Text(CheckResult result) => JsonSerializer.Serialize(result);

    [Fact]
    public void Every_meaning_belongs_to_a_field_of_the_setup() =>
        Assert.Empty(Meanings.Keys.Except(PathsIn(JsonNode.Parse(Setup)!, ""), StringComparer.Ordinal));

    /// <summary>A field that is added to the format has to be added here.</summary>
    [Fact]
    public void The_setup_has_every_field_of_the_format()
    {
        static IEnumerable<string> Names(string setup) =>
            PathsIn(JsonNode.Parse(setup)!, "").Select(p => p.Split('.')[^1]);
        Assert.Empty(
            Names(Jobs.Setups.SetupSamples.Full)
                .Where(n => n is not ("G55" or "1P3"))
                .Except(Names(Setup), StringComparer.Ordinal)
        );
    }
}
