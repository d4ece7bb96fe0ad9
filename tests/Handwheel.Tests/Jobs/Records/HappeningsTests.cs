using System.Reflection;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Records;
using static Handwheel.Tests.Jobs.Proving.SmallShop;

namespace Handwheel.Tests.Jobs.Records;

public class HappeningsTests
{
    /// <summary>Told with the steps, the readings, the deviations, edits, changes, first piece, handoffs and signatures of the record.</summary>
    static readonly Type[] ToldElsewhere =
    [
        typeof(Begun),
        typeof(FindingsSeen),
        typeof(Ticked),
        typeof(ReadingTyped),
        typeof(LineTyped),
        typeof(SavedProgramCompared),
        typeof(FirstPieceMeasured),
        typeof(CorrectionEntered),
        typeof(EditNoted),
        typeof(ProgramChanged),
        typeof(SetupChanged),
        typeof(Signed),
        typeof(DeviationSigned),
        typeof(OtherWaySigned),
        typeof(CutShort),
        typeof(HandedOver),
        typeof(HandoffWithdrawn),
        typeof(LockoutLifted),
        typeof(TakingOverAlone),
        typeof(TookOver),
    ];

    static JsonArray Of(params Act[] acts) =>
        RecordHappenings.Of([
            .. acts.Select((a, i) => new Entry(i + 1, Morning.AddMinutes(i), "UTC", Setter, "tablet 1", i, a)),
        ]);

    [Fact]
    public void Every_way_that_a_prove_out_can_go_stands_in_the_record_in_words()
    {
        Act[] acts =
        [
            new Interrupted("power loss"),
            new Differs("air-cut.tool.1.position", "half an inch left"),
            new DifferenceSettled("air-cut.tool.1.position", "G55 X typed anew"),
            new BaselineDecided("ready.offset.G55.x", true, "the vise was moved"),
            new LengthChanged(1, "reground"),
            new ToolReplaced(2, "broke"),
            new BaselineChanged("G55", "z", "touched off"),
            new HoldingChanged("left clamp lower"),
            new RaiseChosen("4.0", "block at hand"),
            new AirCutWanted("new fixture"),
            new TakenBack(3, "slip"),
            new SentBack(["ready.table"], "look again"),
            new Note("vise is new"),
            new Note("it was T2", null, 4),
            new PhotoAdded(new string('a', 64), "ready.table", "clamps"),
            new ParkingBegun(),
            new Abandoned("tool missing"),
        ];
        var told = Of(acts);
        Assert.Equal(acts.Length, told.Count);
        Assert.Equal(["interrupted", "differs", "done about it"], told.Take(3).Select(t => (string?)t!["what"]));
        Assert.Equal("tool missing", (string?)told[^1]!["words"]);
        Assert.Equal("ready.table", (string?)told[14]!["step"]);
        var known = acts.Select(a => a.GetType()).Concat(ToldElsewhere).ToHashSet();
        var every = typeof(Act).GetCustomAttributes<System.Text.Json.Serialization.JsonDerivedTypeAttribute>();
        Assert.Equal(every.Select(e => e.DerivedType).Order(ByName), known.Order(ByName));
    }

    static readonly IComparer<Type> ByName = Comparer<Type>.Create((a, b) => string.CompareOrdinal(a.Name, b.Name));
}
