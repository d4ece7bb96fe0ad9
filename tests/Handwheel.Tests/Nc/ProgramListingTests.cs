using System.Text;
using CsCheck;
using Handwheel.Nc;

namespace Handwheel.Tests.Nc;

public class ProgramListingTests
{
    static ProgramListing Listing(string program) => new(Encoding.UTF8.GetBytes(program));

    static string Pieces(string line) => string.Join('|', Listing(line).Pieces(1).Select(p => $"{p.Kind}:{p.Text}"));

    [Fact]
    public void The_pieces_are_the_file_byte_for_byte() =>
        Gen
            .Byte.Array[0, 5_000]
            .Sample(
                bytes =>
                {
                    var listing = new ProgramListing(bytes);
                    var at = 0;
                    for (var line = 1; line <= listing.LineCount; line++)
                        foreach (var piece in listing.Pieces(line))
                        {
                            Assert.Equal(at, piece.Start);
                            Assert.True(piece.Length > 0);
                            at += piece.Length;
                        }
                    Assert.Equal(bytes.Length, at);
                },
                iter: 1_000
            );

    [Fact]
    public void Lines_end_as_the_interpreter_ends_them()
    {
        var listing = Listing("A\r\nB\rC\n\nE");
        Assert.Equal(["A", "B", "C", "", "E"], Enumerable.Range(1, listing.LineCount).Select(listing.Text));
    }

    [Theory]
    [InlineData(
        "N10 G1X-1. 5 (a(b)c)M8",
        "BlockNumber:N10|Blank: |Code:G1|Axis:X-1. 5|Blank: |Comment:(a(b)c)|Code:M8"
    )]
    [InlineData("%O5(x", "Mark:%|ProgramNumber:O5|Comment:(x")]
    [InlineData("/2 T1M6;end", "Mark:/2|Blank: |Tool:T1|Code:M6|Comment:;end")]
    [InlineData("#1=[2+#3] X#1", "Macro:#1=[2+#3] |Axis:X|Macro:#1")]
    [InlineData("X1\u202EY\u200B2?", "Axis:X1|Strange:⟨U+202E⟩|Axis:Y|Strange:⟨U+200B⟩|Strange:2|Strange:?")]
    [InlineData("X\uFF11", "Axis:X|Strange:⟨U+FF11⟩")]
    [InlineData("G0 X1*71", "Code:G0|Blank: |Axis:X1|Mark:*71")]
    public void Pieces_of_a_line(string line, string expected) => Assert.Equal(expected, Pieces(line));

    [Theory]
    [InlineData("\u041E12", "⟨U+041E⟩12")]
    [InlineData("(О)", "(О)")] // in a comment letters are letters
    [InlineData("G0 X\u0661\u200B", "G0 X⟨U+0661⟩⟨U+200B⟩")]
    [InlineData("(end \u202E.1Z- \u202C)", "(end ⟨U+202E⟩.1Z- ⟨U+202C⟩)")]
    public void Blocks_are_shown_as_in_the_listing(string block, string expected)
    {
        Assert.Equal(expected, ProgramListing.Shown(Encoding.UTF8.GetBytes(block)));
        Assert.Equal(expected, string.Concat(Listing(block).Pieces(1).Select(p => p.Text)));
    }

    [Fact]
    public void Long_lines_are_cut_and_say_so()
    {
        var pieces = Listing(
                "(" + new string('x', 50_000) + ")" + string.Concat(Enumerable.Repeat("X1 ", 10_000)) + "\nG0"
            )
            .Pieces(1);
        Assert.True(pieces.Sum(p => p.Text.Length) < 5_000);
        Assert.Equal((ListedKind.Cut, " … 30000 bytes more in this line"), (pieces[^2].Kind, pieces[^2].Text));
        Assert.Equal(80_003, pieces.Sum(p => p.Length));
        Assert.Equal("G1 X1…", ProgramListing.Shown("G1 X1 Y2 Z3"u8, 5));
    }

    [Fact]
    public void What_cannot_be_seen_is_shown()
    {
        Assert.Equal("(größe⟨U+202E⟩ ⟨U+00A0⟩x)", Listing("(größe\u202E \u00A0x)").Text(1));
        Assert.Equal("G0⟨FF⟩", new ProgramListing(new byte[] { (byte)'G', (byte)'0', 0xFF }).Text(1));
    }
}
