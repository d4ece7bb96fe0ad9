using System.Text;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Jobs.Templates;
using Handwheel.Nc;
using Handwheel.Tests.Jobs.Proving;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Templates;

public class TemplateTests
{
    static ProvingTemplate Read(string inside) =>
        ProvingTemplateFile.Read(
            Encoding.UTF8.GetBytes($$"""{ "format": "handwheel-proving/1", "units": "inch", {{inside}} }"""),
            "ours.json"
        );

    static NumberedTemplate Numbered(string inside, string of = "every machine") =>
        new(new(of, 1, new string('c', 64)), Read(inside));

    static ShopRulesForProving Rules(string shop, string machine = "\"rules\": {}") =>
        TemplatesInForce.Rules(Numbered(shop), Numbered(machine, "Mill 2")) with
        {
            ReadWear = false,
        };

    [Theory]
    [InlineData("\"rules\": { \"correctionLimit\": 0.03 }", "rules.correctionLimit", "0.0200 in or less")]
    [InlineData("\"rules\": { \"heightTolerance\": 0.05 }", "rules.heightTolerance", "0.0400 in or less")]
    [InlineData("\"rules\": { \"firstCutRapidPercent\": 50 }", "rules.firstCutRapidPercent", "25 percent or less")]
    [InlineData("\"rules\": { \"readWear\": false }", "rules.readWear", "an unknown field")]
    [InlineData("\"rules\": {}, \"steps\": [ { \"step\": \"ready.tabel\" } ]", "steps[0].step", "ready.table")]
    [InlineData(
        "\"rules\": {}, \"steps\": [ { \"step\": \"ready.offset.*\", \"title\": \"Read it\" } ]",
        "steps[0].title",
        "Words can be added"
    )]
    [InlineData(
        "\"rules\": {}, \"steps\": [ { \"step\": \"restore.signed\", \"title\": \"Sign\" } ]",
        "steps[0].title",
        "Words can be added"
    )]
    [InlineData(
        "\"rules\": {}, \"steps\": [ { \"step\": \"ready.table\", \"skip\": true } ]",
        "steps[0].skip",
        "known"
    )]
    [InlineData("\"rules\": {}, \"readyFirst\": [ \"machine\", \"machine\" ]", "readyFirst[1]", "at most once")]
    [InlineData(
        "\"rules\": {}, \"extraSteps\": [ { \"phase\": \"ready\", \"key\": \"A b\", \"title\": \"x\" } ]",
        "extraSteps[0].key",
        "lower-case"
    )]
    public void What_would_loosen_a_step_or_is_no_template_is_refused_with_its_place(
        string inside,
        string path,
        string expected
    )
    {
        var fault = Assert.Throws<InputFault>(() => Read(inside));
        Assert.Equal(path, fault.Path);
        Assert.Contains(expected, fault.Message, StringComparison.Ordinal);
        Assert.Contains("ours.json", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Of_two_limits_the_stricter_holds_and_words_and_steps_are_those_of_both()
    {
        var rules = Rules(
            """
            "rules": { "correctionLimit": 0.01, "firstCutRapidPercent": 10, "secondPersonAtRestore": true },
            "steps": [ { "step": "ready.table", "title": "Table and vise", "words": "Torque wrench, drawer 3." } ],
            "extraSteps": [ { "phase": "ready", "key": "guard", "title": "Chip guard on" } ]
            """,
            """
            "rules": { "correctionLimit": 0.015, "firstCutRapidPercent": 5 }, "readyFirst": [ "machine" ],
            "steps": [ { "step": "ready.table", "words": "Left clamp is worn." } ],
            "extraSteps": [ { "phase": "ready", "key": "guard", "title": "Way covers clean", "words": true } ]
            """
        );
        Assert.Equal(In(0.01m), rules.CorrectionLimitIn(Units.Inch));
        Assert.True(rules.SecondPersonAtRestore);
        var table = StepTable.For(Plan(1, rules), airCutWanted: false);
        Assert.Equal(5, table.Find("restore.switch.rapid")!.AtMost);
        var step = table.Find("ready.table")!;
        Assert.Equal("Table and vise", step.Title);
        Assert.StartsWith("Look at the table: holding seated", step.Standard, StringComparison.Ordinal);
        Assert.Equal("Torque wrench, drawer 3. Left clamp is worn.", step.ShopSays);
        Assert.Equal("ready.machine.referenced", table.Rules[0].Id);
        Assert.Equal(Takes.Tick, table.Find("ready.shop.guard")!.Takes);
        Assert.Equal(Takes.TickWithWords, table.Find("ready.shop.guard-here")!.Takes);
        Assert.Equal(["every machine", "Mill 2"], rules.Versions!.Select(v => v.For));
    }

    [Fact]
    public void A_photo_is_a_step_that_the_signature_waits_for_and_that_opens_again_with_its_own()
    {
        var rules = Rules(
            """
            "rules": {}, "steps": [ { "step": "ready.table", "photo": true } ]
            """
        );
        var walk = new Walk(Plan(1, rules)).Begin();
        Assert.Contains(
            "measure the tallest thing",
            walk.Refused(new PhotoAdded(new string('a', 64), "ready.table.photo")),
            StringComparison.Ordinal
        );
        walk.Until("ready.table.photo");
        Assert.Contains("ready.table.photo", walk.ProveOut.Steps.Select(s => s.Id));
        var office = new Actor(Guid.NewGuid(), "programmer", Roles.Programmer);
        Assert.Contains(
            "This is for",
            walk.Refused(new PhotoAdded(new string('a', 64), "ready.table.photo"), office),
            StringComparison.Ordinal
        );
        walk.Until("ready.signed");
        Assert.Equal(StepState.Done, walk.Step("ready.table.photo").State);
        walk.Do(new HoldingChanged("left clamp moved"));
        Assert.Contains("Photo", walk.Refused(new Signed("ready.signed", SignedAs.Did)), StringComparison.Ordinal);
        Assert.Equal(StepState.Waiting, walk.Step("ready.table.photo").State);
    }

    [Fact]
    public void A_photo_sent_while_a_handoff_is_open_settles_nothing()
    {
        var rules = Rules(
            """
            "rules": {}, "steps": [ { "step": "ready.table", "photo": true } ]
            """
        );
        var walk = new Walk(Plan(1, rules)).Begin().Until("ready.table.photo");
        walk.Do(new HandedOver(Words()));
        Assert.Contains(
            "handoff is open",
            walk.Refused(new PhotoAdded(new string('a', 64), "ready.table.photo")),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Every_step_that_a_prove_out_can_have_is_of_a_kind_that_a_template_can_speak_of()
    {
        ProveOutPlan[] plans =
        [
            Plan(2),
            Plan(2, new() { SecondPersonAtRestore = true }),
            Plan(2, airCutPossible: false),
            Plan(2, purpose: Purpose.SetUpAgain),
        ];
        foreach (var step in plans.SelectMany(p => StepTable.For(p, airCutWanted: false).Rules))
            Assert.Contains(StepKinds.Of(step.Id), StepKinds.All.Select(k => k.Name));
        Assert.True(StepKinds.Find("ready.machine.feed-hold")!.TakesTitle);
        Assert.False(StepKinds.Find("ready.tool.*")!.TakesTitle);
        Assert.Equal("restore.offset.*", StepKinds.Of("restore.offset.G54.1P3.z"));
        Assert.Equal(StepKinds.All.Count, StepKinds.All.Select(k => k.Name).Distinct().Count());
    }

    [Fact]
    public void A_plan_of_a_shop_without_templates_is_written_as_before_there_were_any()
    {
        var text = Encoding.UTF8.GetString(PlanJson.Write(Plan(1)));
        foreach (var name in new[] { "versions", "readyFirst", "added", "photos", "provedBefore", "asksWords" })
            Assert.DoesNotContain($"\"{name}\"", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_keeps_the_templates_it_was_made_with()
    {
        var rules = Rules(
            """
            "rules": { "heightTolerance": 0.01 }, "steps": [ { "step": "ready.table", "photo": true } ],
            "extraSteps": [ { "phase": "release", "key": "tell", "title": "Tell the night shift", "photo": true } ]
            """
        );
        var plan = Plan(1, rules);
        var read = PlanJson.Read(PlanJson.Write(plan));
        Assert.Equal(plan.Digest, read.Digest);
        Assert.Equal(rules.Versions, read.Rules.Versions);
        Assert.NotNull(StepTable.For(read, airCutWanted: false).Find("release.shop.tell.photo"));
    }
}
