using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Features.Setups;

namespace Handwheel.Web.Tests.Features.Setups;

public sealed class RegistersInFormTests
{
    static readonly SavedRegister[] Saved =
    [
        Of("G55", "x", -22.5m),
        Of("G55", "z", -18.135m),
        Of("G56", "z", -1m),
        Of("common", "z", 0.5m),
        Of("H1", "length", 5.0625m),
        Of("H1", "wear", 0),
        Of("D1", "wear", 0.001m),
        Of("H9", "length", 4m),
    ];

    [Fact]
    public void Each_register_stands_beside_what_the_form_has()
    {
        var beside = new RegistersInForm(Form(), Units.Inch).Compare(Saved);
        Assert.Equal(
            [
                "G55 x: -22.50, 0",
                "G55 z: -18.125, -0.01",
                "G56 z: no place, ?",
                "common z: , 0.5",
                "H1 length: 5.0625, 0",
                "H1 wear: , 0",
                "D1 wear: , 0.001",
                "H9 length: no place, ?",
            ],
            beside.Select(b =>
                FormattableString.Invariant(
                    $"{b.Saved.Name} {b.Saved.Axis}: {b.Typed ?? "no place"}, {(b.Difference is { } d ? d.In(Units.Inch).ToString("0.####", System.Globalization.CultureInfo.InvariantCulture) : "?")}"
                )
            )
        );
        Assert.Equal([false, true, false, true, false, false, true, false], beside.Select(b => b.Differs));
    }

    /// <summary>A file that was saved during the air cut: Z is the raise higher, and in the common offset it is the raise itself.</summary>
    [Fact]
    public void A_Z_that_may_hold_a_raise_is_seen()
    {
        var beside = new RegistersInForm(Form(), Units.Inch).Compare([
            Of("G55", "x", -20m),
            Of("G55", "z", -15.125m),
            Of("common", "z", 3m),
            Of("G56", "z", -1m),
            Of("H1", "length", 8m),
        ]);
        Assert.Equal([false, true, true, true, false], beside.Select(b => b.MayBeRaised));
        Assert.False(new RegistersInForm(Form(), Units.Inch).Compare([Of("G55", "z", -18.135m)])[0].MayBeRaised);
    }

    [Fact]
    public void What_is_put_in_is_the_same_afterwards_and_a_work_offset_gets_its_row()
    {
        var form = Form();
        var into = new RegistersInForm(form, Units.Inch);
        foreach (var one in Saved)
            into.Take(one);
        Assert.Equal(["H9"], into.Compare(Saved).Where(b => b.Typed is null || b.Differs).Select(b => b.Saved.Name));
        Assert.Equal(["G55", "G56"], form.WorkOffsets.Select(r => r["name"]));
        Assert.Equal("-18.135", form.WorkOffsets[0]["z"]);
    }

    static SavedRegister Of(string name, string axis, decimal value) =>
        new(name, axis, Length.From(value, Units.Inch), 1);

    static SetupForm Form()
    {
        var form = SetupForm.From(
            """
            { "format": "handwheel-setup/1", "units": "inch",
              "workOffsets": { "G55": { "y": -9.25, "z": -18.125 } },
              "tools": [ { "tool": 1, "lengthOffset": 1, "length": 5.0625, "diameterOffset": 1 } ] }
            """u8
        );
        form.WorkOffsets[0]["x"] = "-22.50";
        return form;
    }
}
