using System.Text;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Tests.Jobs.Checking;

/// <summary>What is a program at all, and what is not. Common practice, no source.</summary>
public class ProgramFileTests
{
    const string Plain = "%\r\nO1\r\nG0 X1\r\nM30\r\n%";

    [Theory]
    [InlineData(Plain)]
    [InlineData("\0\0\0" + Plain + "\0\0")]
    [InlineData("%\r\n\0\0O1\r\n\0\0\0G0 X1\n\0M30")]
    [InlineData("\u0012%\nG0 X1\n%\u0014")]
    [InlineData("\uFEFF" + Plain)]
    [InlineData("(größe)\nG0 X1\u001A")]
    public void Text_is_taken(string program) => ProgramFile.Refuse(Encoding.UTF8.GetBytes(program), "p.nc", 1000);

    [Theory]
    [InlineData("utf-16", true)]
    [InlineData("utf-16", false)]
    [InlineData("utf-16BE", true)]
    [InlineData("utf-16BE", false)]
    public void Two_bytes_a_letter_are_said(string encoding, bool mark)
    {
        byte[] bytes = Encoding.GetEncoding(encoding).GetBytes((mark ? "\uFEFF" : "") + Plain);
        var fault = Assert.Throws<InputFault>(() => ProgramFile.Refuse(bytes, "p.nc", 1000));
        Assert.Contains("UTF-16", fault.Message, StringComparison.Ordinal);
        Assert.StartsWith("p.nc", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("G0 X1\nG\u00001\n", "line 2", "0x00")]
    [InlineData("G0\n\nX1\u0001", "line 3", "0x01")]
    [InlineData("\0\0\0", "line 1", "0x00")]
    [InlineData("G0 X1\n\0\u0001", "line 2", "0x01")]
    public void What_is_no_text_is_said_with_its_line(string program, string line, string value)
    {
        var fault = Assert.Throws<InputFault>(() => ProgramFile.Refuse(Encoding.UTF8.GetBytes(program), "p.nc", 1000));
        Assert.Contains(line, fault.Message, StringComparison.Ordinal);
        Assert.Contains(value, fault.Message, StringComparison.Ordinal);
    }
}
