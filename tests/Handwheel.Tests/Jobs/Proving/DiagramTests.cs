using System.Runtime.CompilerServices;
using Handwheel.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Proving;

public class DiagramTests
{
    const string Begin = "<!-- prove-out diagram: written by DiagramTests -->";
    const string End = "<!-- end of the prove-out diagram -->";

    static string Drawn => $"{Begin}\n```mermaid\n{ProveOutDiagram.Mermaid(SmallShop.Plan(1))}```\n{End}";

    [Fact]
    public void Every_step_stands_in_the_diagram()
    {
        var drawn = Drawn;
        Assert.All(
            new Walk(SmallShop.Plan(1)).ProveOut.Steps,
            s => Assert.Contains(s.Id, drawn, StringComparison.Ordinal)
        );
    }

    /// <summary>The part of DEVELOPERS.md between the marks is the table's own drawing; HANDWHEEL_WRITE_DOCS=1 writes it.</summary>
    [Fact]
    public void The_diagram_in_the_documentation_is_drawn_from_the_table()
    {
        var path = Path.Combine(Root(), "DEVELOPERS.md");
        var text = File.Exists(path) ? File.ReadAllText(path) : "";
        var from = text.IndexOf(Begin, StringComparison.Ordinal);
        if (from < 0)
            Assert.Skip("DEVELOPERS.md has no marks for the diagram yet.");
        var to = text.IndexOf(End, StringComparison.Ordinal) + End.Length;
        if (Environment.GetEnvironmentVariable("HANDWHEEL_WRITE_DOCS") == "1")
            File.WriteAllText(path, text[..from] + Drawn + text[to..]);
        else
            Assert.Equal(Drawn, text[from..to]);
    }

    static string Root([CallerFilePath] string here = "")
    {
        var folder = new DirectoryInfo(Path.GetDirectoryName(here)!);
        while (folder.Parent is { } up && !File.Exists(Path.Combine(folder.FullName, "Handwheel.slnx")))
            folder = up;
        return folder.FullName;
    }
}
