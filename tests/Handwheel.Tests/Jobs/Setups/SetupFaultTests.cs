using System.Text;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Setups;

/// <summary>Each fault names the file, the line, the path, what was found and what was expected.</summary>
public sealed class SetupFaultTests
{
    static string Refusal(string text) => Refusal(Encoding.UTF8.GetBytes(text));

    static string Refusal(byte[] text)
    {
        var fault = Assert.Throws<InputFault>(() => SetupFile.Read(text, "job.setup.json"));
        Assert.StartsWith("job.setup.json", fault.Message, StringComparison.Ordinal);
        Assert.Contains("found ", fault.Message, StringComparison.Ordinal);
        Assert.Contains("expected ", fault.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', fault.Message);
        return fault.Message;
    }

    [Theory]
    [InlineData(
        "\"diameter\": 0.5, \"cornerRadius\"",
        "\"diametr\": 0.5, \"cornerRadius\"",
        "tools[0].diametr",
        "did you mean \"diameter\""
    )]
    [InlineData("\"units\": \"inch\"", "\"units\": \"inches\"", "units: found \"inches\"", "did you mean \"inch\"")]
    [InlineData("\"units\": \"inch\"", "\"units\": \"cm\"", "units: found \"cm\"", "expected \"inch\" or \"mm\"")]
    [InlineData("\"units\": \"inch\",", "", "units: found nothing", "required")]
    [InlineData("handwheel-setup/1", "handwheel-setup/2", "format: found \"handwheel-setup/2\"", "handwheel-setup/1")]
    [InlineData("\"x\": [-40, 0]", "\"x\": [0, -40]", "machine.travel.x: found [0, -40]", "the lower end first")]
    [InlineData("\"x\": [-40, 0]", "\"x\": [-40]", "machine.travel.x", "[low, high]")]
    [InlineData("\"x\": [-40, 0]", "\"x\": null", "machine.travel.x: found null", "required")]
    [InlineData("\"length\": 5.0625", "\"length\": 5.062512", "tools[0].length: found 5.062512", "at most 5 decimals")]
    [InlineData("\"length\": 5.0625", "\"length\": 5.1e-5", "tools[0].length: found 5.1e-5", "at most 5 decimals")]
    [InlineData(
        "\"length\": 5.0625",
        "\"length\": 0.10000000000000000000000000000000001",
        "tools[0].length",
        "at most 5 decimals"
    )]
    [InlineData("\"length\": 5.0625", "\"length\": 1e-999999999999", "tools[0].length", "at most 5 decimals")]
    [InlineData("\"length\": 5.0625", "\"length\": 1e999999999999", "tools[0].length", "below 100000")]
    [InlineData("\"length\": 5.0625", "\"length\": -100000", "tools[0].length", "below 100000")]
    [InlineData("\"length\": 5.0625", "\"length\": \"5.0625\"", "tools[0].length: found \"5.0625\"", "without quotes")]
    [InlineData("\"length\": 5.0625", "\"length\": [5]", "tools[0].length: found a list", "a length in in")]
    [InlineData(
        "\"diameter\": 0.5, \"cornerRadius\"",
        "\"diameter\": -0.5, \"cornerRadius\"",
        "tools[0].diameter: found -0.5",
        "above 0"
    )]
    [InlineData("\"cornerRadius\": 0,", "\"cornerRadius\": -0.1,", "tools[0].cornerRadius", "0 or more")]
    [InlineData("\"flutes\": 4", "\"flutes\": 4.5", "tools[0].flutes: found 4.5", "whole number")]
    [InlineData("\"tool\": 1, \"pocket\"", "\"tool\": 0, \"pocket\"", "tools[0].tool: found 0", "from 1")]
    [InlineData("\"tool\": 1, \"pocket\"", "\"tol\": 1, \"pocket\"", "tools[0].tool: found \"tol\"", "required")]
    [InlineData("\"hand\": \"right\"", "\"hand\": \"rigth\"", "tools[0].hand", "did you mean \"right\"")]
    [InlineData("\"G55\": {", "\"G60\": {", "workOffsets.G60: found the register name \"G60\"", "G54 to G59")]
    [InlineData("\"G54.1P3\": {", "\"G54.1P0\": {", "workOffsets.G54.1P0", "G54.1P1 to G54.1P299")]
    [InlineData(
        "\"workOffset\": \"G55\", \"material\"",
        "\"workOffset\": \"g55\", \"material\"",
        "stock.workOffset: found \"g55\"",
        "G54 to G59"
    )]
    [InlineData(
        "\"max\": { \"x\": 5.1, \"y\": 0.1, \"z\": 0.05 }",
        "\"max\": { \"x\": 5.1, \"y\": 0.1, \"z\": -1.0 }",
        "stock.max.z: found -1.0",
        "above min.z"
    )]
    [InlineData(
        "\"bottom\": -1.0, \"top\": 1.6",
        "\"bottom\": 1.6, \"top\": -1.0",
        "holding[1].top: found -1.0",
        "above the bottom"
    )]
    [InlineData(
        "\"shape\": \"box\"",
        "\"shape\": \"cone\"",
        "holding[0].shape: found \"cone\"",
        "\"box\" or \"cylinder\""
    )]
    [InlineData("\"shape\": \"box\"", "\"shape\": \"cylinder\"", "holding[0].centre", "required")]
    [InlineData(
        "\"workOffset\": \"G55\", \"axis\"",
        "\"workOffset\": \"G59\", \"axis\"",
        "characteristics[0].workOffset: found \"G59\"",
        "G55"
    )]
    [InlineData(
        "\"axis\": \"x\"",
        "\"axis\": \"c\"",
        "characteristics[0].axis: found \"c\"",
        "\"x\" or \"y\" or \"z\""
    )]
    [InlineData("\"minus\": 0.0005", "\"minus\": -0.0005", "characteristics[0].minus: found -0.0005", "0 or more")]
    [InlineData("\"rapidOverride\": 0.5", "\"rapidOverride\": 50", "airCut.rapidOverride: found 50", "at most 1")]
    [InlineData("\"maxFeed\": 500", "\"maxFeed\": 0", "machine.maxFeed: found 0", "above 0")]
    [InlineData(
        "\"harmless\": [\"G8\", \"M41\"]",
        "\"harmless\": [\"G8\", \"turbo\"]",
        "machine.harmless[1]: found \"turbo\"",
        "a G or M code"
    )]
    [InlineData(
        "\"subprogramCall\": \"P\"",
        "\"subprogramCall\": \"p\"",
        "machine.reads.subprogramCall",
        "one capital letter"
    )]
    [InlineData("\"peckRetract\": 0.02", "\"peckRetract\": -0.02", "machine.reads.peckRetract", "0 or more")]
    [InlineData(
        "\"toolChangeRetracts\": true",
        "\"toolChangeRetracts\": \"yes\"",
        "machine.reads.toolChangeRetracts",
        "true or false"
    )]
    [InlineData("\"part\": \"\"", "\"part\": 12", "job.part: found 12", "a text")]
    [InlineData("\"part\": \"\"", "\"part\": \"a\\nb\"", "job.part", "one line")]
    [InlineData("\"part\": \"\"", "\"part\": \"\\ud800\"", "job.part", "whole Unicode characters")]
    [InlineData("\"parking\": [", "\"parking\": [3, ", "parking[0]: found 3", "a text")]
    [InlineData("\"pocket\": 1,", "\"pocket\": 1, \"pocket\": 2,", "tools[0].pocket: found this field again", "once")]
    public void A_slip_is_named(string old, string changed, string where, string expected)
    {
        var message = Refusal(SetupSamples.Changed(old, changed));
        Assert.Contains(where, message, StringComparison.Ordinal);
        Assert.Contains(expected, message, StringComparison.Ordinal);
        Assert.Contains(", line ", message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_line_is_that_of_the_slip()
    {
        var text = SetupSamples.Changed("\"toolChangeZ\": 0,", "\"toolChangeX\": 0,");
        var line = 1 + text[..text.IndexOf("toolChangeX", StringComparison.Ordinal)].Count(c => c == '\n');
        Assert.StartsWith(
            $"job.setup.json, line {line}, machine.toolChangeX: found an unknown field",
            Refusal(text),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_tool_number_stands_once()
    {
        var text = SetupSamples.Changed("\"tools\": [", "\"tools\": [ { \"tool\": 1 },");
        Assert.Contains("tools[1].tool: found tool 1 a second time", Refusal(text), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "an empty file")]
    [InlineData("  \n", "an empty file")]
    [InlineData("[]", "an empty list")]
    [InlineData("\"text\"", "\"text\"")]
    [InlineData("{ \"format\": \"handwheel-setup/1\"", "the end of the file in the middle")]
    [InlineData("{ // why\n }", "a comment")]
    [InlineData("{ /* why */ }", "a comment")]
    [InlineData("{ \"units\": \"mm\", }", "a comma before the closing }")]
    [InlineData("{ 'units': \"mm\" }", "a single quote")]
    [InlineData("{} {}", "more text after the end")]
    [InlineData("{ \"units\": mm }", "the character m where it cannot stand")]
    [InlineData("{ \"units\": NaN }", "the character N where it cannot stand")]
    [InlineData("{ \"units\": 01 }", "where it cannot stand")]
    public void Text_that_is_not_this_JSON_is_named(string text, string found) =>
        Assert.Contains(found, Refusal(text), StringComparison.Ordinal);

    [Fact]
    public void Bytes_that_are_no_text_are_named()
    {
        Assert.Contains(
            "UTF-16",
            Refusal(Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes("{}")).ToArray()),
            StringComparison.Ordinal
        );
        Assert.Contains("line 2", Refusal([(byte)'{', (byte)'\n', 0xC3, 0x28]), StringComparison.Ordinal);
        Assert.Contains("zero byte", Refusal([(byte)'{', 0]), StringComparison.Ordinal);
        Assert.Contains("levels", Refusal(new string('[', 1000)), StringComparison.Ordinal);
    }
}
