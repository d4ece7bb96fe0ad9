using Handwheel.Jobs.Proving;
using Handwheel.Tests.Docs;

namespace Handwheel.Tests.Jobs.Proving;

public class DiagramTests
{
    static string Drawn => $"```mermaid\n{ProveOutDiagram.Mermaid(SmallShop.Plan(1))}```";

    [Fact]
    public void Every_step_stands_in_the_diagram()
    {
        var drawn = Drawn;
        Assert.All(
            new Walk(SmallShop.Plan(1)).ProveOut.Steps,
            s => Assert.Contains(s.Id, drawn, StringComparison.Ordinal)
        );
    }

    [Fact]
    public void The_diagram_in_the_documentation_is_drawn_from_the_table() =>
        WrittenPart.Holds("DEVELOPERS.md", "the prove-out diagram", nameof(DiagramTests), Drawn);
}
