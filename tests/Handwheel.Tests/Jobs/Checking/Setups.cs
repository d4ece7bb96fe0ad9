using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>Small setups and programs for tests of the check.</summary>
static class Setups
{
    /// <summary>A machine in inch with one tool of 5 in, G54 at X-20 Y-10 Z-18 and a block of stock topped at part zero.</summary>
    public static Setup Inch() =>
        From("inch", """[{ "tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5 }]""");

    public static Setup From(string units, string tools, string machine = "", string more = "", string? offsets = null)
    {
        var scale = units == "inch" ? 1m : 25.4m;
        string At(decimal inch) =>
            Length
                .From(inch * scale, Units.Millimetre)
                .In(Units.Millimetre)
                .ToString("0.######", System.Globalization.CultureInfo.InvariantCulture);
        offsets ??= $$"""{ "G54": { "x": {{At(-20)}}, "y": {{At(-10)}}, "z": {{At(-18)}} } }""";
        var travel = $$"""{ "x": [{{At(-40)}}, 0], "y": [{{At(-20)}}, 0], "z": [{{At(-25)}}, 0] }""";
        var json = $$"""
            { "format": "handwheel-setup/1", "units": "{{units}}", "machine": { "travel": {{travel}}{{Comma(
                machine
            )}} },
              "workOffsets": {{offsets}}, "tools": {{tools}}{{Comma(more)}} }
            """;
        return SetupFile.Read(Encoding.UTF8.GetBytes(json), "test.setup.json");
    }

    static string Comma(string fields) => fields.Length == 0 ? "" : ", " + fields;

    public static CheckResult Run(string program, Setup setup, CheckOptions? options = null) =>
        Check.Run(Encoding.UTF8.GetBytes(program), "test.nc", setup, options);

    public static IEnumerable<string> Ids(this CheckResult result, Level level) =>
        result.Findings.Where(f => f.Level == level).Select(f => f.Id);
}
