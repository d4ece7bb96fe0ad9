using System.Globalization;
using Bunit;
using CsCheck;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.Setups;
using Handwheel.Web.Sheets.Pictures;
using Handwheel.Web.Tests.Journeys;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;

namespace Handwheel.Web.Tests.Features.Setups;

/// <summary>The drawing beside the form follows what is typed, and says what keeps it from doing so.</summary>
public sealed class LiveDrawingTests : BunitContext
{
    static readonly string[] Kinds = ["stock", "offset", "common"];

    readonly SetupForm form = SetupForm.From(SpacerPlate.SetupBytes);

    public LiveDrawingTests()
    {
        Services.AddSingleton(TimeProvider.System);
        // how long it takes is no concern of these tests
        DefaultWaitTimeout = TimeSpan.FromSeconds(30);
    }

    IRenderedComponent<LiveDrawing> Show(Func<Setup, IReadOnlyList<TipRun>>? path = null) =>
        Render<LiveDrawing>(p =>
            p.Add(x => x.Says, () => FormSays.Of(form))
                .Add(x => x.Views, [ViewFrom.Top, ViewFrom.Front])
                .Add(x => x.Path, path)
                .Add(x => x.Wait, TimeSpan.Zero)
                .Add<SetupFormView>(x => x.ChildContent, c => c.Add(f => f.Form, form))
        );

    static string Pictures(IRenderedComponent<LiveDrawing> shown) =>
        string.Concat(shown.FindAll(".live-drawing svg").Select(s => s.OuterHtml));

    /// <summary>On the renderer's own turn: the drawing is rendered again whenever it is ready, which must not come between finding and typing.</summary>
    static Task Type<T>(IRenderedComponent<T> shown, string id, string text)
        where T : IComponent => shown.InvokeAsync(() => shown.Find("#" + id).Input(text));

    [Fact]
    public void It_begins_with_what_the_form_has()
    {
        var shown = Show();
        shown.WaitForAssertion(() => Assert.Equal(2, shown.FindAll(".live-drawing svg").Count));
        Assert.Contains("Top view", Pictures(shown), StringComparison.Ordinal);
        Assert.Equal("", shown.Find(".live-why").TextContent.Trim());
    }

    [Fact]
    public async Task A_value_that_is_typed_is_drawn_without_leaving_the_field()
    {
        var shown = Show();
        shown.WaitForAssertion(() => Assert.Contains(">4.0000<", Pictures(shown), StringComparison.Ordinal));
        await Type(shown, "stock-0-max-x", "5.5");
        shown.WaitForAssertion(() => Assert.Contains(">5.5000<", Pictures(shown), StringComparison.Ordinal));
        Assert.DoesNotContain(">4.0000<", Pictures(shown), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("stock-0-max-x", "4,5", "Stock G54, X to")]
    [InlineData("stock-0-max-x", "-3", "X to")]
    [InlineData("tool-0-diameter", "-0.5", "Tool 1, Diameter")]
    public async Task What_cannot_be_used_leaves_the_last_drawing_and_names_its_field(
        string field,
        string typed,
        string named
    )
    {
        var shown = Show();
        shown.WaitForAssertion(() => Assert.Equal(2, shown.FindAll(".live-drawing svg").Count));
        var before = Pictures(shown);
        await Type(shown, field, typed);
        shown.WaitForAssertion(() =>
            Assert.Contains(named, shown.Find(".live-why").TextContent, StringComparison.Ordinal)
        );
        Assert.Contains("Still as before", shown.Find(".live-why").TextContent, StringComparison.Ordinal);
        Assert.Equal(before, Pictures(shown));
        // nothing is marked in the form: that is for saving to do
        Assert.Empty(shown.FindAll(".live-form .refusal"));

        await Type(shown, field, "4.25");
        shown.WaitForAssertion(() => Assert.Equal("", shown.Find(".live-why").TextContent.Trim()));
    }

    [Fact]
    public async Task A_row_that_is_taken_out_is_gone_from_the_drawing()
    {
        form.Boxes.Clear();
        form.Boxes.Add(new(SetupFields.BoxHolding));
        foreach (
            var (path, text) in new[]
            {
                ("name", "toe clamp"),
                ("workOffset", "G54"),
                ("min.x", "-1"),
                ("max.x", "-0.2"),
                ("min.y", "0"),
                ("max.y", "1"),
                ("min.z", "-0.75"),
                ("max.z", "0.5"),
            }
        )
            form.Boxes[0][path] = text;
        var shown = Show();
        shown.WaitForAssertion(() => Assert.Contains("toe clamp", Pictures(shown), StringComparison.Ordinal));
        // on the renderer's own turn: the drawing is rendered again whenever it is ready, which must not come between
        await shown.InvokeAsync(() =>
            shown
                .FindAll("section.form-rows")
                .First(s => s.TextContent.Contains("Holding: boxes", StringComparison.Ordinal))
                .QuerySelector("td button")!
                .Click()
        );
        shown.WaitForAssertion(() => Assert.DoesNotContain("toe clamp", Pictures(shown), StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_path_is_followed_under_the_values_that_are_typed()
    {
        var under = new List<decimal>();
        var shown = Show(setup =>
        {
            lock (under)
                under.Add(setup.Tools[0].Length!.Value.In(setup.Units));
            return TipPath.Of(SpacerPlate.ProgramBytes, setup);
        });
        shown.WaitForAssertion(() => Assert.Contains("class=\"cuts\"", Pictures(shown), StringComparison.Ordinal));
        await Type(shown, "tool-0-length", "6.5");
        shown.WaitForAssertion(() => Assert.Contains(6.5m, under));
    }

    [Fact]
    public void A_form_that_is_no_setup_yet_says_what_is_missing()
    {
        form.Units = "";
        var shown = Show();
        shown.WaitForAssertion(() =>
            Assert.Contains("Not drawn yet", shown.Find(".live-why").TextContent, StringComparison.Ordinal)
        );
        Assert.Empty(shown.FindAll(".live-drawing svg"));
    }

    [Fact]
    public async Task The_travel_of_a_machine_is_drawn_once_both_ends_of_each_axis_are_there()
    {
        var machine = new MachineForm(SpacerPlate.Facts);
        machine.Machine["travel.x.0"] = "";
        var shown = Render<MachineFormView>(p => p.Add(x => x.Form, machine));
        shown.WaitForAssertion(() =>
            Assert.Contains("X travel", shown.Find(".live-why").TextContent, StringComparison.Ordinal)
        );
        Assert.Empty(shown.FindAll(".refusal"));
        await Type(shown, "travel-travel-x-0", "-33.5");
        shown.WaitForAssertion(() =>
            Assert.Contains(">-33.5000<", shown.Find(".live-drawing svg").OuterHtml, StringComparison.Ordinal)
        );
    }

    /// <summary>Whatever number stands in a field while somebody types, there is a drawing or a reason.</summary>
    [Fact]
    public void Any_number_in_any_field_of_the_table_is_drawn_or_refused_in_words() =>
        (
            from row in Gen.Int[0, 2].Select(i => Kinds[i])
            from field in Gen.Int[0, 7]
            from value in Gen.OneOf(
                Gen.Int[-999_999, 999_999].Select(i => i / 1000m),
                Gen.Int[-1, 1].Select(i => i * 1e6m)
            )
            select (row, field, value)
        ).Sample(
            at =>
            {
                var typed = SetupForm.From(SpacerPlate.SetupBytes);
                var part = at.row switch
                {
                    "stock" => typed.Stock[0],
                    "offset" => typed.WorkOffsets[0],
                    _ => typed.CommonOffset,
                };
                var numbers = part.Fields.Where(f => f.Kind == FieldKind.Number).ToList();
                part[numbers[at.field % numbers.Count].Path] = at.value.ToString(CultureInfo.InvariantCulture);
                var says = FormSays.Of(typed);
                Assert.True(says.Setup is null == says.Why is not null);
                if (says.Setup is not { } setup)
                    return;
                var scene = Scene.From(setup, TipPath.Of(SpacerPlate.ProgramBytes, setup), ["G54"], raise: null);
                foreach (var view in new[] { ViewFrom.Top, ViewFrom.Front, ViewFrom.Travel })
                    Assert.DoesNotContain(
                        "NaN",
                        PartView.Draw(scene, view, 420, 320).ToSvg(),
                        StringComparison.Ordinal
                    );
            },
            iter: 200
        );
}
