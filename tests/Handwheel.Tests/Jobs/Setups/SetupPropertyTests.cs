using System.Text;
using CsCheck;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Setups;

public sealed class SetupPropertyTests
{
    static readonly Gen<string> Word = Gen.Char["abc éΩ⌀\"\\/<'0"].Array[1, 12].Select(c => "w" + new string(c));

    static Gen<Length> Lengths(Units units, decimal low = -99_999m, decimal high = 99_999m)
    {
        var step = units == Units.Inch ? 254L : 1L;
        var most = (long)(high * units.Nanometres() / step);
        var least = (long)(low * units.Nanometres() / step);
        return Gen.Long[least, most].Select(n => Length.FromNanometres(n * step));
    }

    static Gen<T?> OrNull<T>(Gen<T> gen)
        where T : struct => Gen.Bool.SelectMany(given => given ? gen.Select(v => (T?)v) : Gen.Const(() => (T?)null));

    static Gen<Offset> Offsets(Units units)
    {
        var axis = OrNull(Lengths(units));
        return Gen.Select(axis, axis, axis, (x, y, z) => new Offset(x, y, z));
    }

    static Gen<(Point, Point)> Boxes(Units units)
    {
        var low = Lengths(units, -900, 0);
        var high = Lengths(units, 1, 900);
        return Gen.Select(
            Gen.Select(low, low, low, (x, y, z) => new Point(x, y, z)),
            Gen.Select(high, high, high, (x, y, z) => new Point(x, y, z))
        );
    }

    static readonly Gen<WorkOffsetName> Registers = Gen.OneOf(
        Gen.Int[1, 6].Select(n => new WorkOffsetName(n)),
        Gen.Int[1, 299].Select(WorkOffsetName.Extended)
    );

    static Gen<Tool> Tools(Units units)
    {
        var above = OrNull(Lengths(units, 1, 500));
        var register = OrNull(Gen.Int[1, 9999]);
        return Gen.Select(above, above, OrNull(Lengths(units)), Lengths(units), register, Gen.Bool, Word)
            .Select(t => new Tool
            {
                Number = 1,
                Pocket = t.Item5,
                Kind = t.Item7,
                Diameter = t.Item1,
                Stickout = t.Item2,
                Pitch = t.Item1,
                Hand = t.Item6 ? Hand.Left : Hand.Right,
                LengthOffset = t.Item5,
                Length = t.Item3,
                LengthWear = t.Item4,
                DiameterWear = -t.Item4,
                AlsoLengthOffsets = t.Item5 is { } h ? [h] : [],
                Holder = t.Item2 is { } size ? [new(size, size)] : [],
            });
    }

    static Gen<Machine> Machines(Units units)
    {
        var range = Gen.Select(
            Lengths(units, -900, -1),
            Lengths(units, 0, 900),
            (low, high) => new Handwheel.Jobs.Setups.Range(low, high)
        );
        var rate = Gen.Long[1, 9_999_999_999_999].Select(n => n / 1_000_000m);
        return Gen.Select(
                range,
                OrNull(Offsets(units)),
                OrNull(rate),
                OrNull(Lengths(units)),
                Gen.Bool,
                Gen.Int[0, 2],
                Word
            )
            .Select(t => new Machine
            {
                Name = t.Item7,
                Travel = new(t.Item1, t.Item1, t.Item1),
                Reference = t.Item2,
                ToolChangeZ = t.Item4,
                Rapid = t.Item3 is { } r ? new AxisRates(r, r, r) : null,
                RapidPath = (RapidPath)t.Item6,
                MaxFeed = t.Item3,
                AirCutRates = t.Item3 is { } f ? [new(f, f)] : [],
                Reads = new Reads
                {
                    ArcCentresAbsolute = t.Item5,
                    DwellPIsSeconds = t.Item5,
                    ToolChangeRetracts = t.Item5,
                    LengthOffsetMovesAtOnce = !t.Item5,
                    ArcTolerance = t.Item4 is { } l ? Length.Abs(l).Nanometres : null,
                },
            });
    }

    static readonly Gen<Setup> Setups = Gen
        .Bool.Select(inch => inch ? Units.Inch : Units.Millimetre)
        .SelectMany(units =>
            Gen.Select(
                    Machines(units),
                    Gen.Select(Registers, Offsets(units)).Array[0, 6],
                    Offsets(units),
                    Tools(units).Array[0, 4],
                    Gen.Select(Registers, Boxes(units), Word).Array[0, 3],
                    Gen.Bool,
                    Lengths(units, 0, 9)
                )
                .Select(t => new Setup
                {
                    Units = units,
                    Machine = t.Item1,
                    WorkOffsets = t.Item2.DistinctBy(w => w.Item1).ToDictionary(w => w.Item1, w => w.Item2),
                    CommonOffset = t.Item3,
                    Tools = [.. t.Item4.Select((tool, i) => tool with { Number = i + 1 })],
                    Stock = [.. t.Item5.Select(b => new Stock(b.Item1, b.Item3, b.Item2.Item1, b.Item2.Item2))],
                    Holding =
                    [
                        .. t.Item5.Select(b => (Holding)new BoxHolding(b.Item3, b.Item1, b.Item2.Item1, b.Item2.Item2)),
                        .. t.Item5.Select(b => new CylinderHolding(
                            b.Item3,
                            b.Item1,
                            b.Item2.Item1.X,
                            b.Item2.Item1.Y,
                            b.Item2.Item2.X,
                            b.Item2.Item1.Z,
                            b.Item2.Item2.Z
                        )),
                    ],
                    AirCut = new AirCutRules { Clearance = t.Item7, RapidOverride = t.Item6 ? 0.25m : 1 },
                    Rules = new ShopRules { LengthOffsetMatchesTool = t.Item6, ApproachClearance = t.Item7 },
                    Characteristics =
                    [
                        new()
                        {
                            Name = "bore",
                            Nominal = t.Item7,
                            Plus = t.Item7,
                            Minus = t.Item7,
                            Kind = t.Item6 ? CharacteristicKind.Wall : CharacteristicKind.Other,
                            Side = t.Item6 ? Side.Outside : null,
                            Axis = t.Item6 ? "z" : "",
                        },
                    ],
                    Job = new JobNote { Notes = "first\nsecond\t" + t.Item7.Nanometres },
                })
        );

    [Fact]
    public void Any_setup_is_the_same_after_writing_and_reading() =>
        Setups.Sample(
            setup =>
            {
                var text = SetupFile.Write(setup);
                var again = SetupFile.Read(text, "again.json");
                Assert.Equivalent(setup, again, strict: true);
                Assert.Equal(text, SetupFile.Write(again));
            },
            iter: 300
        );

    [Fact]
    public void Damaged_text_is_refused_in_words_or_read_but_never_breaks_the_reader() =>
        Gen.Select(Gen.Int[0, SetupSamples.Full.Length - 1], Gen.Int[0, 5], Gen.Byte)
            .Sample(
                damage =>
                {
                    var (at, dropped, put) = damage;
                    var text = Encoding.UTF8.GetBytes(SetupSamples.Full).ToList();
                    text.RemoveRange(at, Math.Min(dropped, text.Count - at));
                    text.Insert(at, put);
                    try
                    {
                        SetupFile.Read([.. text], "damaged.json");
                    }
                    catch (InputFault fault)
                    {
                        Assert.StartsWith("damaged.json", fault.Message, StringComparison.Ordinal);
                    }
                },
                iter: 5000
            );
}
