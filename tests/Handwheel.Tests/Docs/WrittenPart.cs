using Handwheel.Tests.Tidy;

namespace Handwheel.Tests.Docs;

/// <summary>
/// A part of a document that is made from the code: compared by a test, and written anew when HANDWHEEL_WRITE_DOCS is 1.
/// It stands between <c>&lt;!-- NAME: written by TEST --&gt;</c> and <c>&lt;!-- end of NAME --&gt;</c>.
/// </summary>
static class WrittenPart
{
    public static void Holds(string document, string name, string test, string made)
    {
        var begin = $"<!-- {name}: written by {test} -->";
        var end = $"<!-- end of {name} -->";
        var text = Repository.Read(document);
        var from = text.IndexOf(begin, StringComparison.Ordinal);
        Assert.True(from >= 0, $"{document} has no mark \"{begin}\".");
        var to = text.IndexOf(end, from, StringComparison.Ordinal);
        Assert.True(to >= 0, $"{document} has no mark \"{end}\".");
        var part = $"{begin}\n{made.Trim('\n')}\n{end}";
        if (Environment.GetEnvironmentVariable("HANDWHEEL_WRITE_DOCS") == "1")
            File.WriteAllText(Path.Combine(Repository.Root, document), text[..from] + part + text[(to + end.Length)..]);
        else
            Assert.Equal(part, text[from..(to + end.Length)]);
    }
}
