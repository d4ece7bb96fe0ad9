using System.Text;
using CsCheck;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Setups;

namespace Handwheel.Web.Tests.Features.Setups;

public sealed class ToolSpreadsheetTests
{
    static readonly Gen<string> Words = Gen.Char["abc =+-@,;\"#/1.é"].Array[0, 10].Select(c => new string(c).Trim());

    static readonly Gen<string> Cell = Gen.OneOf(Words, Gen.Int[0, 99_999].Select(n => $"{n / 1000}.{n % 1000}"));

    /// <summary>Whatever is typed in the form comes back from the table as it was typed.</summary>
    [Fact]
    public void What_goes_out_comes_back() =>
        Gen.Select(Cell.Array[SetupFields.Tool.Count].Array[1, 5], Gen.Int[1, 90])
            .Sample(
                (rows, first) =>
                {
                    var form = Form();
                    for (var i = 0; i < rows.Length; i++)
                        form.Tools.Add(Tool(first + i, rows[i]));
                    var again = Form();
                    var taken = ToolSpreadsheet.Into(
                        again,
                        Encoding.UTF8.GetString(ToolSpreadsheet.Write(form)),
                        "tools.csv"
                    );
                    Assert.Equal(new(0, rows.Length), taken);
                    foreach (var (there, back) in form.Tools.Zip(again.Tools))
                    foreach (var field in SetupFields.Tool)
                        Assert.Equal(there[field.Path], back[field.Path]);
                },
                iter: 200
            );

    [Fact]
    public void Pasted_cells_change_the_tool_that_has_the_number_and_add_the_others()
    {
        var form = Form();
        form.Tools.Add(Tool(4, []));
        form.Tools[0]["description"] = "old";
        form.Tools[0]["diameter"] = "0.25";
        var taken = ToolSpreadsheet.Into(
            form,
            "T\tDescription\tdiameter\t\r\n4\t1/2 4FL\t\t\r\n7\tTAP\t0.25\tignored\r\n",
            "pasted"
        );
        Assert.Equal(new(1, 1), taken);
        Assert.Equal(("1/2 4FL", "0.25"), (form.Tools[0]["description"], form.Tools[0]["diameter"]));
        Assert.Equal(("7", "TAP"), (form.Tools[1]["tool"], form.Tools[1]["description"]));
    }

    [Fact]
    public void Semicolons_part_cells_where_the_headings_have_no_comma()
    {
        var form = Form();
        ToolSpreadsheet.Into(form, "T;Description\n3;\"a; b\"\n", "tools.csv");
        Assert.Equal("a; b", Assert.Single(form.Tools)["description"]);
    }

    /// <summary>A comma for the point is not guessed at: it is refused beside its field when the form is written.</summary>
    [Fact]
    public void A_cell_that_is_no_number_is_refused_where_it_stands()
    {
        var form = Form();
        ToolSpreadsheet.Into(form, "T;Diameter\n3;12,5\n", "tools.csv");
        var refusals = new List<string>();
        form.Write(refusals);
        Assert.Contains(refusals, r => r.StartsWith("Tool 3, Diameter: ", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("", "line 1", "a line of headings")]
    [InlineData("Diameter\n0.5\n", "line 1", "tool numbers")]
    [InlineData("T,Colour\n1,red\n", "line 1", "“Colour”")]
    [InlineData("T,Diameter,T\n1,0.5,1\n", "line 1", "twice")]
    [InlineData("T,Diameter\n1,0.5\nx,0.5\n", "line 3", "a tool number")]
    [InlineData("T,Diameter\n\n1,0.5,7\n", "line 3", "3 cells")]
    [InlineData("T,Description\n1,\"open\n", "line 2", "quote")]
    public void A_slip_is_refused_with_its_line_and_the_form_stays(string text, string where, string says)
    {
        var form = Form();
        form.Tools.Add(Tool(1, []));
        var fault = Assert.Throws<InputFault>(() => ToolSpreadsheet.Into(form, text, "tools.csv"));
        Assert.Contains(where, fault.Message, StringComparison.Ordinal);
        Assert.Contains(says, fault.Message, StringComparison.Ordinal);
        Assert.Equal("", Assert.Single(form.Tools)["diameter"]);
    }

    static SetupForm Form() => SetupForm.From("""{ "format": "handwheel-setup/1", "units": "inch" }"""u8);

    static FormPart Tool(int number, string[] cells)
    {
        var tool = new FormPart(SetupFields.Tool);
        for (var i = 0; i < cells.Length; i++)
            tool[SetupFields.Tool[i].Path] = cells[i];
        tool["tool"] = number.ToString(System.Globalization.CultureInfo.InvariantCulture);
        return tool;
    }
}
