using System.Globalization;
using System.Runtime.InteropServices;
using Handwheel.Bench;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

const int Small = 10_000_000;
const int Runs = 15;

if (args is ["material"])
{
    var own = new Bars();
    MaterialBench.Measure(own);
    CorpusBench.Measure(own);
    own.Print();
    return own.AllKept ? 0 : 1;
}
if (args is ["sheet"])
{
    var own = new Bars();
    SheetBench.Measure(own);
    own.Print();
    return own.AllKept ? 0 : 1;
}
if (args is ["path"])
{
    var own = new Bars();
    PathBench.Measure(own);
    own.Print();
    return own.AllKept ? 0 : 1;
}
if (args is ["naive", var file])
{
    var reader = new NaiveReader();
    reader.Run(File.ReadAllBytes(file));
    Console.WriteLine(
        FormattableString.Invariant($"{reader.Blocks} blocks, cut {reader.Cut:F3}, rapid {reader.Rapid:F3}")
    );
    return 0;
}

// The bars are about the figures: bounds, distances, times, stops, travel, contact with holding. Following the stock as it is cut is
// another piece of work, measured in rows of its own.
var figures = new CheckOptions { Material = false };
var everything = new CheckOptions { MaterialBytesMost = long.MaxValue };
var bars = new Bars();
var setup = BenchSetup.Read();
var settings = new ControlSettings
{
    Units = Units.Inch,
    LeastIncrement = 2_540,
    WorkOffsets = new Dictionary<WorkOffsetName, OffsetValue> { [WorkOffsetName.G54] = new(0, 0, 0) },
    LengthOffsets = new Dictionary<int, long>
    {
        [1] = 0,
        [2] = 0,
        [3] = 0,
    },
    Reference = new(0, 0, 0),
    ToolChangeZ = 0,
};

Console.WriteLine(
    FormattableString.Invariant(
        $"{RuntimeInformation.OSDescription}, {RuntimeInformation.ProcessArchitecture}, {Environment.ProcessorCount} cores, .NET {Environment.Version}, load {Load()}; medians"
    )
);
Console.WriteLine("program              what                      ms     MB/s  x newlines");
var surfacing = Programs.Surfacing(Small);
Measure("3D surfacing", surfacing, naiveLimit: 20, newlineLimit: 45, "surfacing");
Measure("2.5D", Programs.Mixed(Small), naiveLimit: 12, newlineLimit: 90, "mixed");
MeasureCold();
MeasureSizes();
MeasureAllocation();
MeasurePath();
MaterialBench.Measure(bars);
CorpusBench.Measure(bars);
SheetBench.Measure(bars);
PathBench.Measure(bars);
bars.Print();
return bars.AllKept ? 0 : 1;

void Measure(string name, byte[] program, double naiveLimit, double newlineLimit, string bar)
{
    var newlines = Timing.Median(() => GC.KeepAlive(program.AsSpan().Count((byte)'\n')), 200, 20);
    Row(name, "newline count", program, newlines, newlines);
    Row(name, "interpreter, empty sink", program, Timing.Median(() => Follow(program, new NoSink()), Runs), newlines);
    Row(name, "interpreter, sums", program, Timing.Median(() => Follow(program, new SumSink()), Runs), newlines);
    var check = Timing.Median(() => GC.KeepAlive(Check.Run(program, "bench.nc", setup, figures)), Runs);
    Row(name, "check without the stock", program, check, newlines);
    var all = Timing.Median(() => GC.KeepAlive(Check.Run(program, "bench.nc", setup, everything)), 3, 2);
    Row(name, "check, everything on", program, all, newlines);
    var naive = Timing.Median(() => new NaiveReader().Run(program), 5, 2);
    Row(name, "naive reader", program, naive, newlines);
    SameFigures(program);
    MeasureFromFile(name, program, naiveLimit, newlineLimit, bar);
}

// From the file to the result: each of them reads the file, which the operating system has in memory, in the same way and starts with it.
void MeasureFromFile(string name, byte[] program, double naiveLimit, double newlineLimit, string bar)
{
    using var onDisk = new ProgramOnDisk(program);
    var newlines = Timing.Median(() => GC.KeepAlive(onDisk.Read().AsSpan().Count((byte)'\n')), 50, 20);
    Row(name, "file: newline count", program, newlines, newlines);
    var check = Timing.Median(() => GC.KeepAlive(Check.Run(onDisk.Read(), "bench.nc", setup, figures)), Runs);
    Row(name, "file: check, no stock", program, check, newlines);
    var naive = Timing.Median(() => new NaiveReader().Run(onDisk.Read()), 5, 2);
    Row(name, "file: naive reader", program, naive, newlines);
    bars.AtLeast(bar + "-times-naive", naive / check, naiveLimit);
    bars.AtMost(bar + "-newline-counts", check / newlines, newlineLimit);
}

TSink Follow<TSink>(byte[] program, TSink sink)
    where TSink : struct, IMotionSink
{
    Interpreter.Run(program, settings, new RunOptions(), ref sink);
    return sink;
}

// Both must have followed the same program, or the ratio means nothing.
void SameFigures(byte[] program)
{
    var naive = new NaiveReader();
    naive.Run(program);
    var ours = Follow(program, new SumSink());
    var unit = Units.Inch.Nanometres();
    if (ours.Blocks != naive.Blocks || ours.Faults != 0 || Math.Abs(ours.Cut / unit - naive.Cut) > 1e-6 * naive.Cut)
        throw new InvalidOperationException(
            FormattableString.Invariant(
                $"The two readers disagree: {ours.Blocks} and {naive.Blocks} blocks, cut {ours.Cut / unit:F4} and {naive.Cut:F4}, {ours.Faults} faults"
            )
        );
}

void MeasureCold()
{
    using var cold = new ColdStart(surfacing);
    var check = cold.Check();
    var naive = cold.Naive();
    Row("3D surfacing, cold", "handwheel check", surfacing, check, 0);
    Row("3D surfacing, cold", "naive reader", surfacing, naive, 0);
    bars.AtLeast("cold-check-times-naive", naive / check, 8);
}

void MeasureSizes()
{
    var large = Programs.Surfacing(Small * 10);
    var few = Timing.Median(() => GC.KeepAlive(Check.Run(surfacing, "bench.nc", setup, figures)), Runs);
    var many = Timing.Median(() => GC.KeepAlive(Check.Run(large, "bench.nc", setup, figures)), 3, 1);
    Row("3D surfacing 100 MB", "check without the stock", large, many, 0);
    bars.AtMost("hundred-megabytes-times-ten", many / few, 11);
}

void MeasureAllocation()
{
    var blocks = Follow(surfacing, new SumSink()).Blocks;
    var before = GC.GetAllocatedBytesForCurrentThread();
    Follow(surfacing, new SumSink());
    var allocated = GC.GetAllocatedBytesForCurrentThread() - before;
    bars.AtMost("kilobytes-allocated-per-million-blocks", allocated / 1024.0 / (blocks / 1e6), 64);
}

void MeasurePath()
{
    var path = KeptPath.Of(surfacing, settings, new RunOptions());
    var before = GC.GetAllocatedBytesForCurrentThread();
    var kept = Timing.Median(() => KeptPath.Of(surfacing, settings, new RunOptions()), 1, 0);
    var bytes = GC.GetAllocatedBytesForCurrentThread() - before;
    Row("3D surfacing", "path kept", surfacing, kept, 0);
    bars.AtMost("bytes-per-segment-kept", (double)bytes / path.Count, 20);
    var million = KeptPath.Of(Programs.Surfacing(Small * 5 / 2), settings, new RunOptions());
    var program = Programs.Surfacing(Small * 5 / 2);
    var thin = Timing.Median(() => GC.KeepAlive(million.Thin(20_000)), Runs);
    var check = Timing.Median(() => GC.KeepAlive(Check.Run(program, "bench.nc", setup, figures)), 3, 1);
    Row("3D surfacing", FormattableString.Invariant($"{million.Count} segments thinned"), program, thin, 0);
    bars.AtMost("thinning-times-check", thin / check, 1);
}

// What else the machine was doing, where it says: a ratio measured beside other work is no ratio of these two.
static string Load() => File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Split(' ')[0] : "not known";

static void Row(string name, string what, byte[] program, double milliseconds, double newlines)
{
    var speed = program.Length / 1e3 / milliseconds;
    var ratio = newlines > 0 ? (milliseconds / newlines).ToString("F1", CultureInfo.InvariantCulture) : "";
    Console.WriteLine(
        FormattableString.Invariant($"{name, -20} {what, -23} {milliseconds, 8:F2} {speed, 8:F0} {ratio, 11}")
    );
}
