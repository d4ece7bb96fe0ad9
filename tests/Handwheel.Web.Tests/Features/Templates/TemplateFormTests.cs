using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Templates;
using Handwheel.Nc;
using Handwheel.Web.Features.Setups;
using Handwheel.Web.Features.Templates;

namespace Handwheel.Web.Tests.Features.Templates;

public sealed class TemplateFormTests
{
    static TemplateForm Empty => new(ProvingTemplateFile.Write(ProvingTemplate.Nothing(Units.Inch)));

    static FormPart Row(IReadOnlyList<Field> fields, params (string Field, string Typed)[] typed)
    {
        var row = new FormPart(fields);
        foreach (var (field, text) in typed)
            row[field] = text;
        return row;
    }

    [Fact]
    public void What_is_typed_becomes_a_template_and_a_new_step_gets_a_key_of_its_own()
    {
        var form = Empty;
        form.Rules["firstCutRapidPercent"] = "10";
        form.Rules["secondPersonAtRestore"] = "yes";
        form.Earlier(ReadyOrder.Machine);
        form.Steps.Add(Row(TemplateForm.StepFields, ("step", "ready.table"), ("words", "drawer 3"), ("photo", "yes")));
        form.ExtraSteps.Add(Row(TemplateForm.ExtraFields, ("phase", "ready"), ("title", "Chip guard on")));
        form.ExtraSteps.Add(Row(TemplateForm.ExtraFields, ("phase", "release"), ("title", "Chip guard on")));
        var refusals = new List<string>();
        var template = form.Write(refusals);
        Assert.Empty(refusals);
        Assert.Equal(10, template!.FirstCutRapidPercent);
        Assert.True(template.SecondPersonAtRestore);
        Assert.Equal(["check", "program", "table", "tools", "machine", "offsets"], template.ReadyFirst);
        Assert.Equal(new StepWording("ready.table", "", "drawer 3", true), Assert.Single(template.Steps));
        Assert.Equal(["chip-guard-on", "chip-guard-on-2"], template.ExtraSteps.Select(e => e.Key));

        var again = new TemplateForm(ProvingTemplateFile.Write(template));
        again.ExtraSteps[0]["title"] = "Guard and lamp on";
        Assert.Equal("chip-guard-on", again.Write(refusals)!.ExtraSteps[0].Key);
    }

    [Fact]
    public void A_limit_that_would_be_loosened_is_named_beside_its_field()
    {
        var form = Empty;
        form.Rules["correctionLimit"] = "0.5";
        var refusals = new List<string>();
        Assert.Null(form.Write(refusals));
        Assert.Contains("0.0200 in or less", Assert.Single(refusals), StringComparison.Ordinal);
        Assert.Contains("tighten", form.Rules.Refusal("correctionLimit"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_title_where_none_may_be_given_is_named_with_its_step()
    {
        var form = Empty;
        form.Steps.Add(Row(TemplateForm.StepFields, ("step", "ready.offset.*"), ("title", "Read it")));
        var refusals = new List<string>();
        Assert.Null(form.Write(refusals));
        Assert.StartsWith("Ready: for example Read G5", Assert.Single(refusals), StringComparison.Ordinal);
        Assert.NotNull(form.Steps[0].Refusal("title"));
    }

    [Fact]
    public void Every_kind_of_step_has_words_of_its_own()
    {
        var words = StepKinds.All.Select(k => TemplateForm.StepFields[0].Said(k.Name)).ToList();
        Assert.All(words, w => Assert.DoesNotContain('*', w));
        Assert.Equal(words.Count, words.Distinct().Count());
    }
}
