using System.Globalization;
using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>The stock as cut, and the places where the tool comes nearest to what holds it.</summary>
public sealed partial class PartView
{
    const double DepthSize = 6.5;
    const double PassMarkSize = 11;

    void AddCut()
    {
        for (var i = 0; i < Math.Min(_scene.AsCut.Count, _scene.Stock.Count); i++)
        {
            var (low, high) = _view.Corners(_scene.Stock[i]);
            var blank = _scene.AsCut[i];
            _marks.Add(new Shades("as-cut", low, high, blank.Columns, blank.Rows, Relief.Of(blank)));
            var lines = StepLines.Of(blank, _scene.Units).Select(l => OnBlank(l, blank)).ToList();
            if (lines.Count > 0)
                _marks.Add(new Strokes("steps", lines, Weight: 0.6));
            _marks.Add(new Strokes("stock", [Outline(_scene.Stock[i])], Weight: 0.9, Closed: true));
        }
    }

    /// <summary>From columns and rows of the grid to the picture.</summary>
    IReadOnlyList<Spot> OnBlank(IReadOnlyList<Spot> line, AsCutBlank blank) =>
        [
            .. line.Select(s =>
                _view.At(
                    new(
                        blank.MinX + (s.X / blank.Columns * (blank.MaxX - blank.MinX)),
                        blank.MinY + (s.Y / blank.Rows * (blank.MaxY - blank.MinY)),
                        0
                    ),
                    0
                )
            ),
        ];

    /// <summary>How high each flat lies, from part zero, where there is room for the figure.</summary>
    void AddDepths()
    {
        for (var i = 0; i < Math.Min(_scene.AsCut.Count, _scene.Stock.Count); i++)
        {
            var (blank, stock) = (_scene.AsCut[i], _scene.Stock[i]);
            var zero = NearestZero(stock)?.At.Z ?? stock.Max.Z;
            var room = Ink.Width("-00.0000", Face.MonoBold, DepthSize) + 4;
            var cellWidth = (blank.MaxX - blank.MinX) / blank.Columns * _view.Scale;
            var cellHeight = (blank.MaxY - blank.MinY) / blank.Rows * _view.Scale;
            foreach (var flat in Flats.Of(blank, room / 2 / cellWidth, DepthSize * 0.7 / cellHeight))
            {
                var at = OnBlank([flat.Middle], blank)[0];
                if (!_places.TryTake(at, room, DepthSize * 1.4))
                    continue;
                var text = flat.Height > 0 ? Number(blank.Bottom + flat.Height - zero) : "through";
                var (face, baseline) = (flat.Height > 0 ? Face.MonoBold : Face.SansBold, at.Y + (DepthSize * 0.35));
                _marks.Add(
                    new Label("depths", text, at with { Y = baseline }, face, DepthSize, Align.Centre, Halo: true)
                );
            }
        }
    }

    void AddPasses()
    {
        foreach (var pass in _scene.Passes)
        {
            var at = _view.At(pass.Tip, 0);
            if (pass.Radius > 0)
                _marks.Add(
                    new Strokes("passes", [RingAt(pass.Tip, pass.Radius)], Weight: 0.7, Dash: [2, 1.2], Closed: true)
                );
            var mark = _places.Near(
                new(at.X + PassMarkSize, at.Y - PassMarkSize),
                PassMarkSize + 2,
                PassMarkSize + 2,
                _width,
                _height - Foot
            );
            _marks.Add(
                new Strokes(
                    "passes",
                    [
                        [at, mark],
                        [new(at.X - 3, at.Y), new(at.X + 3, at.Y)],
                        [new(at.X, at.Y - 3), new(at.X, at.Y + 3)],
                    ],
                    Weight: 0.8
                )
            );
            const double half = PassMarkSize / 2;
            _marks.Add(
                new Strokes(
                    "passes",
                    [
                        [
                            new(mark.X - half, mark.Y - half),
                            new(mark.X + half, mark.Y - half),
                            new(mark.X + half, mark.Y + half),
                            new(mark.X - half, mark.Y + half),
                        ],
                    ],
                    "#ffffff",
                    0.8,
                    Fill: "#000000",
                    Closed: true
                )
            );
            var text = pass.Number.ToString(CultureInfo.InvariantCulture);
            var baseline = mark with { Y = mark.Y + 2.6 };
            _marks.Add(new Label("passes", text, baseline, Face.MonoBold, 7.5, Align.Centre, Colour: "#ffffff"));
        }
    }
}
