using System.Text;

namespace Handwheel.Jobs.Proving;

/// <summary>The step table as a Mermaid flow chart, so that the documentation is drawn from the code.</summary>
public static class ProveOutDiagram
{
    static readonly Phase[] InOrder =
    [
        Phase.Ready,
        Phase.AirCut,
        Phase.Restore,
        Phase.FirstCut,
        Phase.FirstPiece,
        Phase.Release,
        Phase.Parking,
    ];

    /// <summary>Phases as boxes, their steps inside by card, an arrow where a step waits for one of another card.</summary>
    public static string Mermaid(ProveOutPlan plan)
    {
        var table = StepTable.For(plan, airCutWanted: false);
        var text = new StringBuilder("flowchart TD\n");
        var nodes = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var phase in InOrder)
        {
            text.Append("  subgraph ")
                .Append(phase)
                .Append("[\"")
                .Append(Capital(StepTable.PhaseName(phase)))
                .Append("\"]\n");
            foreach (var card in table.Of(phase).GroupBy(r => r.Card, StringComparer.Ordinal))
            {
                var node = $"{phase}{nodes.Values.Distinct(StringComparer.Ordinal).Count() + 1}";
                foreach (var rule in card)
                    nodes[rule.Id] = node;
                text.Append("    ").Append(node).Append("[\"").Append(card.Key).Append(": ");
                text.Append(string.Join("<br/>", card.Select(r => r.Id))).Append("\"]\n");
            }
            text.Append("  end\n");
        }
        var arrows = table
            .Rules.SelectMany(r => r.After.Where(nodes.ContainsKey).Select(a => (From: nodes[a], To: nodes[r.Id])))
            .Where(a => a.From != a.To)
            .Distinct();
        foreach (var (from, to) in arrows)
            text.Append("  ").Append(from).Append(" --> ").Append(to).Append('\n');
        return text.ToString();
    }

    static string Capital(string name) => char.ToUpperInvariant(name[0]) + name[1..];
}
