using System.Text.Json;
using Handwheel.Web.Commands;

namespace Handwheel.Web.Tests.Commands;

/// <summary>What a command printed and how it ended.</summary>
sealed record Ran(int? Status, string Out, string Error)
{
    /// <summary>Runs the real command in this process, with its output caught.</summary>
    public static async Task<Ran> Command(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var status = await CommandLine.Run(args, () => new Screen(output, error));
        return new(status, output.ToString(), error.ToString());
    }

    public JsonElement Json
    {
        get
        {
            using var document = JsonDocument.Parse(Out);
            return document.RootElement.Clone();
        }
    }

    /// <summary>Exit 2: exactly one sentence on stderr, nothing on stdout, no trace of a stack.</summary>
    public string Refusal()
    {
        Assert.Equal(2, Status);
        Assert.Equal("", Out);
        Assert.Equal(1, Error.Count(c => c == '\n'));
        Assert.DoesNotContain("   at ", Error, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", Error, StringComparison.Ordinal);
        return Error;
    }
}
