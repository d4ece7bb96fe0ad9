using System.Text;
using CsCheck;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Tests.Tidy;

namespace Handwheel.Tests.Jobs.Setups;

public sealed class SetupFromProgramTests
{
    static readonly Machine Mill = SetupSamples.Read(SetupSamples.Full).Machine;

    static SetupDraft Draft(string program, Units units = Units.Inch) =>
        SetupFromProgram.Draft(Encoding.UTF8.GetBytes(program), Mill, units);

    [Fact]
    public void Tools_offsets_feeds_and_words_are_read_from_the_program()
    {
        var draft = Draft(
            """
            %
            O100 (BLOCK)
            (T1 FACE MILL 2.0  H1)
            G20 G90
            T1 M6
            G54 G0 X0 Y0 S3000 M3
            G43 H1 Z1.
            G1 Z-0.1 F20.
            X2. F60.
            T7 M6 (1/4-20 TAP)
            G55 G0 X0 Y0 S500 M3
            G43 H17 Z1.
            G84 Z-0.5 R0.2 F25.
            G80
            M30
            %
            """
        );

        Assert.Equal(Units.Inch, draft.Setup.Units);
        Assert.Equal(["G54", "G55"], draft.Setup.WorkOffsets.Keys.Select(k => k.ToString()));
        Assert.All(draft.Setup.WorkOffsets.Values, v => Assert.Equal(default, v));
        var (face, tap) = (draft.Setup.Tools[0], draft.Setup.Tools[1]);
        Assert.Equal(
            (1, "FACE MILL 2.0", "face mill", (int?)1),
            (face.Number, face.Description, face.Kind, face.LengthOffset)
        );
        Assert.Equal((7, "1/4-20 TAP", "tap"), (tap.Number, tap.Description, tap.Kind));
        Assert.Null(face.Length);
        Assert.Null(face.Diameter);
        Assert.Null(tap.Pitch);
        Assert.Equal((20m, 60m), draft.Tools[0].FeedPerMinute);
        Assert.Equal((3000m, 3000m), draft.Tools[0].Speed);
        Assert.Equal((25m, 25m), draft.Tools[1].FeedPerMinute);
    }

    [Fact]
    public void A_register_that_is_not_the_tools_number_is_asked_about_not_believed()
    {
        var draft = Draft("T3 M6\nG54 G0 X0 Y0\nG43 H2 Z1.\nG41 D33 G1 X1. F10.\nM30");
        Assert.Null(draft.Setup.Tools[0].LengthOffset);
        Assert.Null(draft.Setup.Tools[0].DiameterOffset);
        Assert.Contains(draft.ToFill, l => l.Contains("T3 is used with H2, not H3", StringComparison.Ordinal));
        Assert.Contains(draft.ToFill, l => l.Contains("T3 is used with D33, not D3", StringComparison.Ordinal));
    }

    [Fact]
    public void A_program_that_states_its_unit_decides_and_one_that_does_not_is_asked_about()
    {
        Assert.Equal(Units.Millimetre, Draft("G21\nT1 M6\nG0 X1. Y1.\nM30").Setup.Units);
        var silent = Draft("T1 M6\nG0 X1. Y1.\nM30", Units.Millimetre);
        Assert.Equal(Units.Millimetre, silent.Setup.Units);
        Assert.Contains(silent.ToFill, l => l.Contains("states no unit", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_draft_is_a_setup_that_can_be_written_and_read()
    {
        foreach (var file in Repository.Files("src/Handwheel.Web/Features/Demo/Files", "*.nc"))
        {
            var draft = Draft(Repository.Read(file));
            Assert.NotEmpty(draft.Setup.Tools);
            Assert.All(draft.Setup.Tools, t => Assert.NotEqual("", t.Description));
            Assert.Equivalent(draft.Setup, SetupFile.Read(SetupFile.Write(draft.Setup), "draft.json"), strict: true);
        }
    }

    [Fact]
    public void Any_text_gives_a_draft() =>
        Gen.String[Gen.Char["TMGHXYZ0123456789.()\n ;%é"], 0, 200]
            .Sample(text => Assert.NotNull(Draft(text)), iter: 2000);
}
