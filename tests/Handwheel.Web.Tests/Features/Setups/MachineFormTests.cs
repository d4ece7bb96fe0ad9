using Handwheel.Web.Features.Machines;
using Handwheel.Web.Features.Setups;

namespace Handwheel.Web.Tests.Features.Setups;

public sealed class MachineFormTests
{
    [Fact]
    public void Travel_the_wrong_way_round_is_named_as_the_form_names_it_and_shown_beside_both_ends()
    {
        var form = new MachineForm { Units = "mm" };
        foreach (var (axis, low, high) in new[] { ("x", "-600", "0"), ("y", "400", "0"), ("z", "-500", "0") })
            (form.Machine[$"travel.{axis}.0"], form.Machine[$"travel.{axis}.1"]) = (low, high);
        var refusals = new List<string>();

        Assert.Equal("", form.Write("Mill 3", refusals));

        var said = Assert.Single(refusals);
        Assert.StartsWith("Y travel, low end and Y travel, high end: ", said, StringComparison.Ordinal);
        Assert.DoesNotContain("machine.travel", said, StringComparison.Ordinal);
        Assert.NotNull(form.Machine.Refusal("travel.y.0"));
        Assert.NotNull(form.Machine.Refusal("travel.y.1"));
        Assert.Null(form.Machine.Refusal("travel.x.0"));
    }

    [Fact]
    public void No_choice_of_a_form_is_shown_in_the_spelling_of_the_file() =>
        Assert.All(
            SetupFields.Machine.SelectMany(f => f.Choices),
            choice =>
                Assert.DoesNotContain(
                    Field.InWords(choice),
                    letter => char.IsUpper(letter) && !Field.InWords(choice).EndsWith(" Z", StringComparison.Ordinal)
                )
        );
}
