using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Sheets;

/// <summary>The views that the first page has no room for: in depth, from the side, in the travel.</summary>
static class MoreViews
{
    const double Gap = 14;

    public static void Print(Flow flow, Scene scene)
    {
        if (scene.Stock.Count + scene.Holding.Count + scene.Path.Count == 0)
            return;
        var half = (flow.Width - Gap) / 2;
        var each = scene.ByBlank();
        var inDepth = each.Count == 1 ? flow.Width : half;
        // with two blanks all of it still goes on one page
        var (front, depth, side) = each.Count == 1 ? (200, 300, 200) : (145, 185, 150);
        List<Shown> views = [];
        if (scene.IsWide)
            views.Add(new(scene, ViewFrom.Front, flow.Width, 110, front));
        views.AddRange(each.Select(s => new Shown(s, ViewFrom.Isometric, inDepth, 170, depth)));
        views.AddRange(each.Select(s => new Shown(s, ViewFrom.Side, half, 120, side)));
        views.Add(new(scene, ViewFrom.Travel, each.Count == 1 ? half : flow.Width / 3, 90, 150));
        flow.Heading("More views", views[0].Height + 10, Flow.FromAMetre);
        for (var i = 0; i < views.Count; )
            i += Row(flow, views, i);
    }

    /// <summary>As many as stand beside each other.</summary>
    static int Row(Flow flow, List<Shown> views, int first)
    {
        var both = first + 1 < views.Count && views[first].Width + views[first + 1].Width + Gap <= flow.Width + 0.01;
        var row = views.GetRange(first, both ? 2 : 1);
        // rather a little smaller than on a page of its own
        var height = Math.Min(row.Max(v => v.Height), Math.Max(row.Max(v => v.Least), flow.Bottom - flow.Y));
        flow.Keep(height);
        var x = flow.Left;
        foreach (var view in row)
        {
            PartView.Draw(view.Scene, view.From, view.Width, height).Draw(flow.Ink, x, flow.Y);
            x += view.Width + Gap;
        }
        flow.Y += height + 6;
        return row.Count;
    }

    sealed record Shown(Scene Scene, ViewFrom From, double Width, double Least, double Most)
    {
        public double Height { get; } = PartView.HeightFor(Scene, From, Width, Least, Most);
    }
}
