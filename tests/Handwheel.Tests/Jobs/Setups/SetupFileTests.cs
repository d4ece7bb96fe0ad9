using System.Text;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Setups;

public sealed class SetupFileTests
{
    static Length Inch(decimal value) => Length.From(value, Units.Inch);

    [Fact]
    public void Every_field_of_the_format_is_read()
    {
        var setup = SetupSamples.Read(SetupSamples.Full);

        Assert.Equal(Units.Inch, setup.Units);
        Assert.Equal("Mill 2", setup.Machine.Name);
        Assert.Equal(new(Inch(-40), Inch(0)), setup.Machine.Travel.X);
        Assert.Equal(new Offset(Inch(-20), Inch(0), Inch(0)), setup.Machine.SecondReference);
        Assert.Equal(["G8", "M41"], setup.Machine.Harmless);
        Assert.Equal(new AxisRates(1000, 1000, 800), setup.Machine.Rapid);
        Assert.Equal(Inch(0.002m), setup.Machine.CornerTolerance);
        Assert.Equal(RapidPath.Straight, setup.Machine.RapidPath);
        Assert.Equal([new(150, 150), new(75, 300)], setup.Machine.AirCutRates);
        Assert.Equal(Inch(0.0005m).Nanometres, setup.Machine.Reads.ArcTolerance);
        Assert.Equal(Inch(0.05m).Nanometres, setup.Machine.Reads.PeckClearance);
        Assert.Equal(new Offset(Inch(-22.5m), Inch(-9.25m), Inch(-18.125m)), setup.WorkOffsets[new WorkOffsetName(2)]);
        Assert.True(setup.WorkOffsets.ContainsKey(WorkOffsetName.Extended(3)));
        var tool = Assert.Single(setup.Tools);
        Assert.Equal(1, tool.Number);
        Assert.Equal(Inch(5.0625m), tool.Length);
        Assert.Null(tool.Pitch);
        Assert.Equal(Length.Zero, tool.LengthWear);
        Assert.Equal([new HolderPart(Inch(1.75m), Inch(2.5m))], tool.Holder);
        var stock = Assert.Single(setup.Stock);
        Assert.Equal("aluminium 6061-T6", stock.Material);
        Assert.Equal(Inch(0.05m), stock.Max.Z);
        Assert.Equal(2, setup.Holding.Count);
        Assert.Equal(Inch(1.6m), Assert.IsType<CylinderHolding>(setup.Holding[1]).Top);
        Assert.Equal(0.5m, setup.AirCut.RapidOverride);
        Assert.Null(setup.AirCut.MaximumRaise);
        Assert.Equal(Inch(0.1m), setup.Rules.ApproachClearance);
        Assert.Equal(Inch(0.01m), setup.Rules.MaterialGrid);
        var bore = Assert.Single(setup.Characteristics);
        Assert.Equal(CharacteristicKind.Diameter, bore.Kind);
        Assert.Equal(Side.Inside, bore.Side);
        Assert.Equal(4, bore.Tool);
        Assert.Equal(["axes to the power-off position", "witness marks aligned"], setup.Parking);
    }

    [Fact]
    public void What_is_not_given_stays_not_known()
    {
        var setup = SetupSamples.Read(SetupSamples.Least);

        Assert.Null(setup.Machine.ToolChangeZ);
        Assert.Null(setup.Machine.Rapid);
        Assert.Null(setup.Machine.Reference);
        Assert.Equal(RapidPath.NotKnown, setup.Machine.RapidPath);
        Assert.Null(setup.AirCut.Clearance);
        Assert.Equal(1, setup.AirCut.RapidOverride);
        Assert.True(setup.Rules.LengthOffsetMatchesTool);
        Assert.True(setup.Machine.Reads.ToolChangeRetracts);
        Assert.Equal("P", setup.Machine.Reads.SubprogramCall);
        Assert.Equal(Length.From(0.001m, Units.Millimetre), setup.LeastIncrement);
        Assert.Equal(new Offset(Length.Zero, Length.Zero, Length.Zero), setup.CommonOffset);
        Assert.Empty(setup.Stock);
    }

    [Fact]
    public void A_common_offset_axis_left_out_is_zero_and_null_is_not_known()
    {
        var setup = SetupSamples.Read(
            SetupSamples.Changed(
                "\"commonOffset\": { \"x\": 0, \"y\": 0, \"z\": 0 }",
                "\"commonOffset\": { \"x\": null, \"z\": 0.5 }"
            )
        );
        Assert.Equal(new Offset(null, Length.Zero, Inch(0.5m)), setup.CommonOffset);
    }

    [Fact]
    public void Stock_may_be_a_list()
    {
        var blank =
            """{ "workOffset": "G54", "min": { "x": 0, "y": 0, "z": -1 }, "max": { "x": 1, "y": 1, "z": 0 } }""";
        var text = SetupSamples.Least.Replace(
            "\"tools\": []",
            $"\"tools\": [], \"stock\": [{blank}, {blank}]",
            StringComparison.Ordinal
        );
        Assert.Equal(2, SetupSamples.Read(text).Stock.Count);
    }

    [Theory]
    [InlineData("1.5", 38_100_000)]
    [InlineData("1.50000000", 38_100_000)]
    [InlineData("15e-1", 38_100_000)]
    [InlineData("0.00001", 254)]
    [InlineData("-0.1", -2_540_000)]
    [InlineData("-0", 0)]
    [InlineData("99999.99999", 2_539_999_999_746)]
    public void Lengths_are_exact(string written, long nanometres) =>
        Assert.Equal(
            nanometres,
            SetupSamples
                .Read(SetupSamples.Changed("\"length\": 5.0625", $"\"length\": {written}"))
                .Tools[0]
                .Length!.Value.Nanometres
        );

    [Theory]
    [InlineData("M08", "M8")]
    [InlineData("g05.1", "G5.1")]
    [InlineData("G8", "G8")]
    [InlineData("M00", "M0")]
    public void Harmless_codes_are_normalised(string written, string code) =>
        Assert.Equal(
            [code],
            SetupSamples.Read(SetupSamples.Changed("\"G8\", \"M41\"", $"\"{written}\"")).Machine.Harmless
        );

    [Fact]
    public void A_byte_order_mark_is_passed_over()
    {
        byte[] text = [0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(SetupSamples.Least)];
        Assert.Equal(Units.Millimetre, SetupFile.Read(text, "a.json").Units);
    }

    [Fact]
    public void Zero_stick_out_torque_and_parallels_are_read()
    {
        var setup = SetupSamples.Read(SetupSamples.Full);
        Assert.Equal(new ZeroNote("left front corner", "edge finder"), setup.Zeros[new WorkOffsetName(2)]);
        Assert.False(setup.Zeros.ContainsKey(WorkOffsetName.Extended(3)));
        Assert.Equal((Inch(1.7m), Inch(1.8m)), (setup.Tools[0].StickoutLeast, setup.Tools[0].StickoutMost));
        Assert.Equal(Inch(1.7m), setup.Tools[0].StickoutJudged);
        Assert.Equal("0.75 pair", setup.Stock[0].Parallels);
        Assert.Equal(["45 lbf·ft", "hand tight"], setup.Holding.Select(h => h.Torque));
    }

    [Theory]
    [InlineData(
        "\"stickoutLeast\": 1.7",
        "\"stickoutLeast\": 1.76",
        "tools[0].stickout",
        "at least stickoutLeast, 1.76"
    )]
    [InlineData("\"stickoutMost\": 1.8", "\"stickoutMost\": 1.74", "tools[0].stickoutMost", "at least stickout, 1.75")]
    [InlineData("\"45 lbf·ft\"", "\"45\"", "holding[0].torque", "a torque with its unit")]
    public void A_stick_out_or_torque_that_cannot_be_is_refused(string old, string changed, string path, string says)
    {
        var fault = Assert.Throws<InputFault>(() => SetupSamples.Read(SetupSamples.Changed(old, changed)));
        Assert.Equal(path, fault.Path);
        Assert.Contains(says, fault.Message, StringComparison.Ordinal);
    }

    /// <summary>Plans that are kept know the table by a digest of these texts: a field that came later must not move them.</summary>
    [Fact]
    public void The_text_of_stock_and_holding_is_where_they_are()
    {
        var setup = SetupSamples.Read(SetupSamples.Full);
        var stock = setup.Stock[0];
        Assert.Equal(
            $"Stock {{ WorkOffset = {stock.WorkOffset}, Material = {stock.Material}, Min = {stock.Min}, Max = {stock.Max} }}",
            stock.ToString()
        );
        var box = Assert.IsType<BoxHolding>(setup.Holding[0]);
        Assert.Equal(
            $"BoxHolding {{ Name = {box.Name}, WorkOffset = {box.WorkOffset}, Min = {box.Min}, Max = {box.Max} }}",
            box.ToString()
        );
        var stud = Assert.IsType<CylinderHolding>(setup.Holding[1]);
        Assert.Equal(
            $"CylinderHolding {{ Name = {stud.Name}, WorkOffset = {stud.WorkOffset}, CentreX = {stud.CentreX}, CentreY = {stud.CentreY}, Diameter = {stud.Diameter}, Bottom = {stud.Bottom}, Top = {stud.Top} }}",
            stud.ToString()
        );
    }

    [Fact]
    public void What_is_written_reads_as_the_same_setup()
    {
        var setup = SetupSamples.Read(SetupSamples.Full);
        var again = SetupFile.Read(SetupFile.Write(setup), "again.json");
        Assert.Equivalent(setup, again, strict: true);
    }

    [Fact]
    public void Written_fields_stand_in_the_order_of_the_format()
    {
        var text = Encoding.UTF8.GetString(SetupFile.Write(SetupSamples.Read(SetupSamples.Full)));
        string[] order =
        [
            "format",
            "units",
            "machine",
            "travel",
            "reference",
            "toolChangeZ",
            "rapid",
            "reads",
            "workOffsets",
            "commonOffset",
            "tools",
            "lengthOffset",
            "stock",
            "holding",
            "airCut",
            "rules",
            "job",
            "characteristics",
            "parking",
        ];
        var places = order.Select(name => text.IndexOf($"\"{name}\":", StringComparison.Ordinal)).ToList();
        Assert.DoesNotContain(-1, places);
        Assert.Equal(places.Order(), places);
    }
}
