using System.Text;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Setups;

namespace Handwheel.Web.Tests.Features.Setups;

public sealed class SetupFormTests
{
    static readonly byte[] Sample =
        """
        {
          "format": "handwheel-setup/1",
          "units": "inch",
          "machine": {
            "name": "Mill 2",
            "travel": { "x": [-40, 0], "y": [-20, 0], "z": [-25, 0] },
            "airCutRates": [ { "cut": 150, "rapid": 150 } ],
            "reads": { "toolChangeRetracts": false }
          },
          "workOffsets": { "G55": { "x": -22.5, "y": -9.25, "z": -18.125 } },
          "tools": [
            { "tool": 1, "kind": "end mill", "diameter": 0.5, "lengthOffset": 1, "length": 5.0625, "alsoLengthOffsets": [21],
              "holder": [ { "diameter": 1.75, "length": 2.5 }, { "diameter": 2, "length": 1 } ] }
          ],
          "stock": { "workOffset": "G55", "material": "steel",
                     "min": { "x": -0.1, "y": -3.1, "z": -1.0 }, "max": { "x": 5.1, "y": 0.1, "z": 0.05 } },
          "holding": [
            { "name": "stud", "shape": "cylinder", "workOffset": "G55",
              "centre": { "x": -0.8, "y": -1.5 }, "diameter": 0.5, "bottom": -1.0, "top": 1.6 },
            { "name": "clamp", "shape": "box", "workOffset": "G55",
              "min": { "x": -1.5, "y": -2.0, "z": -1.0 }, "max": { "x": 0.25, "y": -1.0, "z": 0.75 } }
          ],
          "parking": [ "axes to the power-off position", "witness marks aligned" ]
        }
        """u8.ToArray();

    [Fact]
    public void What_was_read_is_written_again_and_nothing_that_no_form_shows_is_lost()
    {
        var refusals = new List<string>();
        var written = SetupForm.From(Sample).Write(refusals);

        Assert.Empty(refusals);
        Assert.Equal(
            Encoding.UTF8.GetString(SetupFile.Write(InOneOrder(SetupFile.Read(Sample, "a")))),
            Encoding.UTF8.GetString(SetupFile.Write(InOneOrder(SetupFile.Read(written, "b"))))
        );
    }

    static Setup InOneOrder(Setup setup) => setup with { Holding = [.. setup.Holding.OrderBy(h => h.Name)] };

    [Fact]
    public void A_fault_of_the_file_is_named_as_the_form_names_its_field()
    {
        var form = SetupForm.From(Sample);
        form.Tools[0]["diameter"] = "-0.5";
        var written = form.Write([]);
        var fault = Assert.Throws<InputFault>(() => SetupFile.Read(written, "setup.json"));

        Assert.StartsWith("Tool 1, Diameter: found -0.5", form.InWords(fault), StringComparison.Ordinal);
        Assert.NotNull(form.Tools[0].Refusal("diameter"));
    }

    [Fact]
    public void A_comma_is_refused_beside_its_field_and_stays_as_it_was_typed()
    {
        var form = SetupForm.From(Sample);
        form.Tools[0]["length"] = "5,0625";
        var refusals = new List<string>();
        form.Write(refusals);

        Assert.Contains("Tool 1, Length register", Assert.Single(refusals), StringComparison.Ordinal);
        Assert.NotNull(form.Tools[0].Refusal("length"));
        Assert.Equal("5,0625", form.Tools[0]["length"]);
    }

    [Fact]
    public void A_field_that_was_emptied_is_not_given_any_more()
    {
        var form = SetupForm.From(Sample);
        form.Tools[0]["length"] = "";
        var setup = SetupFile.Read(form.Write([]), "form");

        Assert.Null(setup.Tools[0].Length);
        Assert.Equal(2, setup.Tools[0].Holder.Count);
    }

    [Fact]
    public void A_register_that_stands_twice_is_refused_by_name()
    {
        var form = SetupForm.From(Sample);
        var again = new FormPart(SetupFields.WorkOffset) { ["name"] = "G55", ["z"] = "1" };
        form.WorkOffsets.Add(again);
        var refusals = new List<string>();
        form.Write(refusals);

        Assert.Contains("G55", Assert.Single(refusals), StringComparison.Ordinal);
    }

    [Fact]
    public void An_empty_row_is_left_out()
    {
        var form = SetupForm.From(Sample);
        form.Tools.Add(new FormPart(SetupFields.Tool));
        var refusals = new List<string>();

        Assert.Single(SetupFile.Read(form.Write(refusals), "form").Tools);
        Assert.Empty(refusals);
    }

    [Theory]
    [InlineData("travel.x.0", "-40.5", """{"travel":{"x":[-40.5]}}""")]
    [InlineData("airCutRates.1.cut", "75", """{"airCutRates":[{},{"cut":75}]}""")]
    [InlineData("reads.toolChangeRetracts", "no", """{"reads":{"toolChangeRetracts":false}}""")]
    [InlineData("harmless", "G8\n M41 \n\n", """{"harmless":["G8","M41"]}""")]
    public void A_field_is_put_where_its_path_says(string path, string typed, string expected)
    {
        var part = new FormPart(SetupFields.Machine) { [path] = typed };
        Assert.Equal(JsonNode.Parse(expected)!.ToJsonString(), part.Write("Machine", []).ToJsonString());
    }
}
