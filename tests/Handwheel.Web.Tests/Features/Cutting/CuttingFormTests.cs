using Handwheel.Jobs.CuttingTables;
using Handwheel.Web.Features.Cutting;
using Handwheel.Web.Features.Setups;

namespace Handwheel.Web.Tests.Features.Cutting;

/// <summary>The cutting table as forms.</summary>
public sealed class CuttingFormTests
{
    static CuttingForm Form() => new(BuiltInCutting.Text);

    static CuttingTable Write(CuttingForm form)
    {
        var refusals = new List<string>();
        var table = form.Write(refusals);
        Assert.Empty(refusals);
        return table!;
    }

    [Fact]
    public void A_form_that_nobody_touched_keeps_every_row()
    {
        var table = Write(Form());
        string[] Rows(CuttingTable t) =>
            [
                .. t
                    .Rows.Select(r =>
                        $"{r.Figure} {r.Material} {string.Join('+', r.Tools)} {r.ToolMaterial} {r.DiameterFrom} {r.DiameterTo} {r.Least} {r.Most} {r.Source}"
                    )
                    .Order(StringComparer.Ordinal),
            ];
        Assert.Equal(Rows(BuiltInCutting.Table), Rows(table));
        Assert.Equal(BuiltInCutting.Table.Materials.Select(m => m.Name), table.Materials.Select(m => m.Name));
        Assert.Equal(
            BuiltInCutting.Table.Materials.SelectMany(m => m.AlsoCalled),
            table.Materials.SelectMany(m => m.AlsoCalled)
        );
    }

    [Fact]
    public void A_material_of_ones_own_comes_with_its_rows_and_a_renamed_one_keeps_its_rows()
    {
        var form = Form();
        var rows = form.Groups[0].Rows.Count;
        form.Groups[0].Material!["name"] = "light alloy";
        var added = form.AddMaterial();
        added.Material!["name"] = "Inconel 718";
        added.Material["alsoCalled"] = "718, nickel alloy";
        var row = new FormPart(CuttingForm.RowFields);
        foreach (
            var (field, text) in new[]
            {
                ("figure", "cuttingSpeed"),
                ("units", "mm"),
                ("tools", "end mill, face mill"),
                ("most", "40"),
                ("source", "shop-practice"),
            }
        )
            row[field] = text;
        added.Rows.Add(row);

        var table = Write(form);
        Assert.Equal(rows, table.Rows.Count(r => r.Material == "light alloy"));
        Assert.Equal(["718", "nickel alloy"], table.Materials.Single(m => m.Name == "Inconel 718").AlsoCalled);
        var own = table.Rows.Single(r => r.Material == "Inconel 718");
        Assert.Equal(["end mill", "face mill"], own.Tools);
        Assert.Equal((null, 40m), (own.Least, own.Most));
    }

    [Fact]
    public void A_slip_is_said_by_the_rows_name_and_shown_beside_its_field()
    {
        var form = Form();
        var row = form.Groups[0].Rows[0];
        row["source"] = "nowhere";
        var refusals = new List<string>();
        Assert.Null(form.Write(refusals));
        Assert.StartsWith("Row of aluminium, Source: ", Assert.Single(refusals), StringComparison.Ordinal);
        Assert.NotNull(row.Refusal("source"));

        row["source"] = "navy";
        row["most"] = "much";
        refusals.Clear();
        Assert.Null(form.Write(refusals));
        Assert.StartsWith("Row of aluminium, Most: ", Assert.Single(refusals), StringComparison.Ordinal);
    }
}
