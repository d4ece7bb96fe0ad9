namespace Handwheel.Web.Sheets.Pictures;

/// <summary>Remembers where labels stand, so that the next one does not cover them.</summary>
sealed class LabelPlaces
{
    /// <summary>The title of a picture ends here.</summary>
    const double TitleFoot = 12;
    readonly List<Frame> _taken = [];

    public void Take(double x, double y, double width, double height) => _taken.Add(new(x, y, width, height));

    /// <summary>The nearest free middle for a label of this size, inside the picture; the wanted one where nothing is free.</summary>
    public Spot Near(Spot wanted, double width, double height, double pictureWidth, double pictureHeight)
    {
        wanted = Inside(wanted, width, height, pictureWidth, pictureHeight);
        for (var ring = 0; ring < 6; ring++)
        {
            for (var side = 0; side < (ring == 0 ? 1 : 8); side++)
            {
                var angle = side * Math.PI / 4;
                var reach = ring * (height + 1);
                var spot = Inside(
                    new(wanted.X + (Math.Cos(angle) * reach * 1.3), wanted.Y - (Math.Sin(angle) * reach)),
                    width,
                    height,
                    pictureWidth,
                    pictureHeight
                );
                if (TryTake(spot, width, height))
                    return spot;
            }
        }
        foreach (var spot in Everywhere(wanted, width, height, pictureWidth, pictureHeight))
            if (TryTake(spot, width, height))
                return spot;
        return wanted;
    }

    /// <summary>All over the picture, nearest first: where it is crowded, the rings pass over gaps.</summary>
    static IEnumerable<Spot> Everywhere(Spot wanted, double width, double height, double across, double down)
    {
        const double step = 3;
        var spots = new List<Spot>();
        for (var y = TitleFoot + (height / 2); y <= down - (height / 2); y += step)
        for (var x = width / 2; x <= across - (width / 2); x += step)
            spots.Add(new(x, y));
        return spots.OrderBy(s => Math.Pow(s.X - wanted.X, 2) + Math.Pow(s.Y - wanted.Y, 2));
    }

    static Spot Inside(Spot spot, double width, double height, double pictureWidth, double pictureHeight) =>
        new(
            Math.Clamp(spot.X, width / 2, Math.Max(width / 2, pictureWidth - (width / 2))),
            Math.Clamp(
                spot.Y,
                TitleFoot + (height / 2),
                Math.Max(TitleFoot + (height / 2), pictureHeight - (height / 2))
            )
        );

    /// <summary>Takes a place when it is free.</summary>
    public bool TryTake(Spot middle, double width, double height)
    {
        var frame = new Frame(middle.X - (width / 2), middle.Y - (height / 2), width, height);
        if (_taken.Exists(t => Overlap(t, frame)))
            return false;
        _taken.Add(frame);
        return true;
    }

    static bool Overlap(Frame a, Frame b) =>
        a.X < b.X + b.Width && b.X < a.X + a.Width && a.Y < b.Y + b.Height && b.Y < a.Y + a.Height;
}
