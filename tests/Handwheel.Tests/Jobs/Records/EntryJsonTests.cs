using System.Reflection;
using System.Text;
using System.Text.Json.Serialization;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using Handwheel.Tests.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Records;

public class EntryJsonTests
{
    static readonly Act[] Acts =
    [
        new Begun("digest"),
        new Begun("digest", new LockedOut("door switch", SmallShop.Setter, SmallShop.Morning)),
        new FindingsSeen("ready.seen.no-end"),
        new Ticked("ready.table", "tight"),
        new ReadingTyped("ready.offset.G55.z", "-18.1250"),
        new LineTyped("ready.program", "1234", "N40 G43 H1 Z0.1"),
        new SavedProgramCompared("ready.program", "aa", new(2, "N10 G90", "M30")),
        new BaselineDecided("ready.offset.G55.z", true, "set today"),
        new Differs("air-cut.tool.1.position", "over the clamp"),
        new DifferenceSettled("air-cut.tool.1.position", "clamp turned"),
        new FirstPieceMeasured("first-piece.1", "24.964", "bore gauge"),
        new CorrectionEntered("first-piece.1", "D4", "11.964"),
        new EditNoted(12, "G1 F20.", "G1 F15.", "chatter"),
        new TakenBack(4, "slip"),
        new Note("ü €", "ready.table", 3),
        new PhotoAdded("bb", "ready.table", "table"),
        new RaiseChosen("4", "block"),
        new ProgramChanged("digest", "deeper"),
        new SetupChanged("digest", "clamp"),
        new LengthChanged(3, "measured again"),
        new BaselineChanged("G55", "z", "touched off"),
        new HoldingChanged("clamp"),
        new ToolReplaced(3, "broke"),
        new Interrupted("alarm"),
        new ParkingBegun(),
        new Abandoned("wrong blank"),
        new Signed("restore.witness", SignedAs.Witnessed),
        new DeviationSigned("air-cut.tool.1.gauge", "no block"),
        new OtherWaySigned("no window"),
        new AirCutWanted("another fixture"),
        new CutShort(4100, "long pass"),
        new SentBack(["ready.table"], "no photo"),
        new HandedOver(SmallShop.Words()),
        new HandoffWithdrawn("not yet"),
        new LockoutLifted("key back"),
        new TakingOverAlone("gone"),
        new TookOver("which clamp"),
    ];

    [Fact]
    public void Every_kind_of_act_comes_back_as_it_was()
    {
        foreach (var act in Acts)
        {
            var entry = new Entry(
                7,
                SmallShop.Morning.AddTicks(1234567),
                "Europe/Vienna",
                SmallShop.NightSetter,
                "tablet 1",
                6,
                act
            );
            var json = EntryJson.Write(entry);
            Assert.Equal(json, EntryJson.Write(EntryJson.Read(json)));
            Assert.Equal(json, CanonicalJson.Of(json));
            Assert.Equal(act.GetType(), EntryJson.ReadAct(EntryJson.WriteAct(act)).GetType());
        }
    }

    [Fact]
    public void The_list_above_has_every_kind_and_no_kind_was_renamed()
    {
        var kinds = typeof(Act)
            .GetCustomAttributes<JsonDerivedTypeAttribute>()
            .ToDictionary(a => a.DerivedType, a => (string)a.TypeDiscriminator!);
        Assert.Equal(kinds.Keys.Select(t => t.Name).Order(), Acts.Select(a => a.GetType().Name).Distinct().Order());
        Assert.All(
            Acts,
            a =>
                Assert.Contains(
                    $"\"kind\":\"{kinds[a.GetType()]}\"",
                    Encoding.UTF8.GetString(EntryJson.WriteAct(a)),
                    StringComparison.Ordinal
                )
        );
        Assert.All(kinds, k => Assert.Equal(Kebab(k.Key.Name), k.Value));
    }

    [Theory]
    [InlineData("""{"kind":"danced","step":"x"}""")]
    [InlineData("""{"step":"x"}""")]
    [InlineData("""{"kind":"ticked","step":"x","colour":"red"}""")]
    [InlineData("""{"kind":"reading-typed","step":"x","typed":null}""")]
    [InlineData("""{"kind":"reading-typed","step":"x","typed":-18.125}""")]
    [InlineData("""{"kind":"signed","step":"x","as":"painted"}""")]
    [InlineData("null")]
    [InlineData("")]
    public void What_is_not_an_act_is_refused(string json) =>
        Assert.Throws<FormatException>(() => EntryJson.ReadAct(Encoding.UTF8.GetBytes(json)));

    [Fact]
    public void A_plan_comes_back_as_it_was()
    {
        var plan = SmallShop.Plan();
        var read = PlanJson.Read(PlanJson.Write(plan));
        Assert.Equal(plan.Digest, read.Digest);
        Assert.Equal(PlanJson.Write(plan), PlanJson.Write(read));
        Assert.Throws<FormatException>(() => PlanJson.Read("{}"u8));
    }

    static string Kebab(string name) =>
        string.Concat(
            name.Select((c, i) => char.IsUpper(c) ? (i > 0 ? "-" : "") + char.ToLowerInvariant(c) : c.ToString())
        );
}
