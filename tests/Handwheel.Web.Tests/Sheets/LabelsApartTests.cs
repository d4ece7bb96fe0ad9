using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Sheets;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Tests.Sheets;

/// <summary>
/// No label of a picture stands on another one or goes over its edge, at the sizes of the job's page, of the drawing beside a form and of
/// paper: measured with the typeface's own widths, on the demo's jobs.
/// </summary>
public sealed class LabelsApartTests
{
    sealed record Box(string Text, double Left, double Right, double Top, double Bottom)
    {
        public static Box Of(Label label)
        {
            var width = Ink.Room(label.Text, label.Face, label.Size);
            var left = label.Align switch
            {
                Align.Centre => label.At.X - (width / 2),
                Align.Right => label.At.X - width,
                _ => label.At.X,
            };
            // the height of capitals and figures, above the line that they stand on
            return new(label.Text, left, left + width, label.At.Y - (0.7 * label.Size), label.At.Y);
        }

        /// <summary>Part zeros that stand behind each other have one set of names.</summary>
        bool IsSame(Box other) =>
            Text == other.Text && Math.Abs(Left - other.Left) < 1 && Math.Abs(Top - other.Top) < 1;

        public bool Covers(Box other) =>
            !IsSame(other) && Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;
    }

    public static MatrixTheoryData<string, ViewFrom> Views =>
        new(
            ["bearing-cap-op10", "latch-plate-op10", "pump-cover-op20"],
            [ViewFrom.Top, ViewFrom.Front, ViewFrom.Side, ViewFrom.Isometric, ViewFrom.AsCut, ViewFrom.Travel]
        );

    static byte[] Demo(string name) => File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "jobs", name));

    [Theory]
    [MemberData(nameof(Views))]
    public void Labels_do_not_cover_each_other(string job, ViewFrom from)
    {
        var (program, setupBytes) = (Demo(job + ".nc"), Demo(job + ".setup.json"));
        var setup = SetupFile.Read(setupBytes, job);
        var scene = Scene.From(setup, TipPath.Of(program, setup), Check.Run(program, job, setup));
        foreach (var (shown, width, height) in Shown(scene, from))
        {
            var boxes = PartView.Draw(shown, from, width, height).Marks.OfType<Label>().Select(Box.Of).ToList();
            Assert.NotEmpty(boxes);
            var wrong = boxes
                .SelectMany((box, i) => boxes.Skip(i + 1).Where(box.Covers).Select(b => $"{box} covers {b}"))
                .Concat(
                    boxes
                        .Where(b => b.Left < -1 || b.Right > width + 1 || b.Top < -1 || b.Bottom > height + 1)
                        .Select(b => $"{b} goes over the edge")
                );
            Assert.Empty(wrong.Select(c => $"{width:0} x {height:0}: {c}"));
        }
    }

    /// <summary>What is drawn from this side somewhere, with its width and height.</summary>
    static IEnumerable<(Scene Scene, double Width, double Height)> Shown(Scene scene, ViewFrom from)
    {
        foreach (var height in new[] { 280, 320, 380, 400 })
            yield return (scene, 520, height);
        var form = scene with { Raise = null, AsCut = [], Passes = [] };
        yield return (form, 420, PartView.HeightFor(form, from, 420, 150, 340));
        foreach (var page in new[] { 523.3, 540 })
        {
            var half = (page - 14) / 2;
            foreach (var height in Heights.Where(h => h >= Least(from)))
            {
                yield return (scene, page, height);
                // beside each other only the first page has views of more than one blank
                if (scene.Stock.Count < 2 || (height >= 150 && from is (ViewFrom.Top or ViewFrom.Front)))
                    yield return (scene, half, height);
                foreach (var blank in scene.ByBlank().Where(b => b.Stock.Count < 2))
                    yield return (blank, half, height);
            }
        }
    }

    /// <summary>Letter and A4 give a view all of the width or half of it, as low and as high as there is room, points.</summary>
    static readonly double[] Heights = [120, 150, 185, 250, 300];

    /// <summary>The lowest that paper gives to a view.</summary>
    static double Least(ViewFrom from) =>
        from switch
        {
            ViewFrom.Isometric => 170,
            ViewFrom.AsCut => 130,
            _ => 104,
        };
}
