using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Jobs.Schemas;
using Handwheel.Tests.Jobs.Setups;
using Json.Schema;

namespace Handwheel.Tests.Jobs.Records;

/// <summary>The published schema of <c>handwheel-record/1</c> takes a record that the app makes.</summary>
public sealed class RecordSchemaTests
{
    static readonly JsonSchema Schema = JsonSchema.FromText(Encoding.UTF8.GetString(SchemaTexts.Record));

    static byte[] Made()
    {
        var from = new DateTimeOffset(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);
        var setup = SetupSamples.Read(SetupSamples.Full);
        var program =
            "%\nO1\nG20 G90\nT1 M6\nG55 G0 X1. Y1. S3000 M3\nG43 H1 Z0.25\nG1 Z-0.1 F10.\nG0 Z0.25\nM30\n%\n"u8.ToArray();
        var check = Check.Run(program, "slot.nc", setup);
        var subject = new ProveOutSubject(
            Guid.NewGuid(),
            Guid.NewGuid(),
            new string('a', 64),
            new string('b', 64),
            [ProgramInControl.From("slot.nc", program, new Random(1))]
        );
        var plan = ProveOutPlan.From(subject, setup, check, new ShopRulesForProving());
        var setter = new Actor(Guid.NewGuid(), "setter", Roles.Setter);
        var supervisor = new Actor(Guid.NewGuid(), "supervisor", Roles.Supervisor | Roles.Setter);
        Act[] acts =
        [
            new Begun(plan.Digest),
            new Note("vise is new"),
            new EditNoted(7, "F10.", "F8.", "chatter"),
            new Abandoned("tool missing"),
        ];
        var entries = acts.Select(
                (act, i) =>
                    new Entry(
                        i + 1,
                        from.AddMinutes(i),
                        "Europe/Berlin",
                        i == 3 ? supervisor : setter,
                        "tablet 1",
                        i,
                        act
                    )
            )
            .ToList();
        var proveOut = ProveOut.Replay(plan, entries, Ledger.Empty);
        var root = ShopKeys.MakeRoot("shop", from);
        return RecordDocument.Make(
            proveOut,
            [.. entries.Select(EntryJson.Write)],
            new RecordOf("shop", "job 1", "bracket", "10", "A", "0 stop"),
            from.AddHours(1),
            ShopKeys.Signer(ShopKeys.MakeLeaf(root, "server", from), root.Certificate)
        );
    }

    static EvaluationResults Evaluate(JsonNode record)
    {
        using var document = JsonDocument.Parse(record.ToJsonString());
        return Schema.Evaluate(document.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
    }

    [Fact]
    public void A_record_fits_the_schema()
    {
        var result = Evaluate(JsonNode.Parse(Made())!);
        var faults = (result.Details ?? []).SelectMany(d =>
            (d.Errors ?? new Dictionary<string, string>()).Select(e => $"{d.InstanceLocation}: {e.Value}")
        );
        Assert.True(result.IsValid, string.Join('\n', faults));
    }

    [Theory]
    [InlineData("format")]
    [InlineData("entries")]
    [InlineData("signature")]
    public void A_record_without_what_it_needs_does_not(string member)
    {
        var record = JsonNode.Parse(Made())!.AsObject();
        record.Remove(member);
        Assert.False(Evaluate(record).IsValid);
    }

    [Fact]
    public void An_act_of_an_unknown_kind_does_not()
    {
        var record = JsonNode.Parse(Made())!;
        record["entries"]![1]!["body"]!["act"]!["kind"] = "erased";
        Assert.False(Evaluate(record).IsValid);
    }
}
