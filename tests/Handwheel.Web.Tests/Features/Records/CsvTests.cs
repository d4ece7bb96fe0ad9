using System.Text;
using CsCheck;
using Handwheel.Web.Features.Records;
using Microsoft.VisualBasic.FileIO;

namespace Handwheel.Web.Tests.Features.Records;

/// <summary>Read back with the framework's own reader of delimited text; what makes a cell a formula is from OWASP, "CSV Injection".</summary>
public sealed class CsvTests
{
    static readonly Gen<string> Text = Gen.Char["abc =+-@\t,;\"'0123456789.é"].Array[0, 12].Select(c => new string(c));

    [Fact]
    public void No_cell_is_a_formula_and_every_cell_comes_back() =>
        Text.Array[2, 5]
            .Sample(row =>
            {
                var read = Read(
                    Csv.Of([
                        ["head", .. row[1..]],
                        row,
                    ]),
                    row.Length
                )[1];
                for (var i = 0; i < row.Length; i++)
                {
                    if (read[i].Length > 0 && "=+-@\t\r\n".Contains(read[i][0]))
                        Assert.Matches(@"^[+-]?(\d+\.?\d*|\.\d+)$", read[i]);
                    Assert.Contains(read[i], (string[])[row[i], "'" + row[i]]);
                }
            });

    [Theory]
    [InlineData("-17.5150", "-17.5150")]
    [InlineData("+.5", "+.5")]
    [InlineData("-1+2", "'-1+2")]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("\tx", "'\tx")]
    [InlineData("-", "'-")]
    [InlineData("\r\n=1", "\"'\r\n=1\"")]
    [InlineData("two\nlines", "\"two\nlines\"")]
    public void A_number_keeps_its_sign_and_a_formula_does_not_run(string text, string cell) =>
        Assert.Equal(
            "\uFEFF" + cell + "\r\n",
            Encoding.UTF8.GetString(
                Csv.Of([
                    [text],
                ])
            )
        );

    static List<string[]> Read(byte[] csv, int columns)
    {
        using var parser = new TextFieldParser(new MemoryStream(csv), Encoding.UTF8)
        {
            TextFieldType = FieldType.Delimited,
            TrimWhiteSpace = false,
        };
        parser.SetDelimiters(",");
        var rows = new List<string[]>();
        while (parser.ReadFields() is { } fields)
            rows.Add(fields);
        Assert.All(rows, r => Assert.Equal(columns, r.Length));
        return rows;
    }
}
