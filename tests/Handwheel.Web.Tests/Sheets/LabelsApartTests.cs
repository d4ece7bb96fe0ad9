using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Sheets;
using Handwheel.Web.Sheets.Pictures;

namespace Handwheel.Web.Tests.Sheets;

/// <summary>No label of a picture stands on another one at the size of the job's page: measured with the typeface's own widths, on the demo's jobs.</summary>
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
            [ViewFrom.Top, ViewFrom.Front, ViewFrom.Side, ViewFrom.Isometric, ViewFrom.AsCut]
        );

    static byte[] Demo(string name) => File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "jobs", name));

    [Theory]
    [MemberData(nameof(Views))]
    public void Labels_do_not_cover_each_other(string job, ViewFrom from)
    {
        var (program, setupBytes) = (Demo(job + ".nc"), Demo(job + ".setup.json"));
        var setup = SetupFile.Read(setupBytes, job);
        var scene = Scene.From(setup, TipPath.Of(program, setup), Check.Run(program, job, setup));
        foreach (var (width, height) in new[] { (520, 380), (520, 320) })
        {
            var boxes = PartView.Draw(scene, from, width, height).Marks.OfType<Label>().Select(Box.Of).ToList();
            Assert.NotEmpty(boxes);
            var covered = boxes.SelectMany(
                (box, i) => boxes.Skip(i + 1).Where(box.Covers).Select(b => $"{box} covers {b}")
            );
            Assert.Equal([], covered.Select(c => $"{width} x {height}: {c}"));
        }
    }
}
