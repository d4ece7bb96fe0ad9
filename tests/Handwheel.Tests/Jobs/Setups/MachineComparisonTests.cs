using System.Reflection;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Tests.Jobs.Setups;

public class MachineComparisonTests
{
    static Setup Setup => SetupSamples.Read(SetupSamples.Full);

    [Fact]
    public void A_machine_is_like_itself() => Assert.Empty(MachineComparison.Of(Setup, Setup));

    /// <summary>Whatever is added to the description of a machine has to be compared, or said here why not.</summary>
    [Fact]
    public void Everything_that_describes_a_machine_is_compared_but_its_name()
    {
        var setup = Setup;
        var (machine, reads) = (setup.Machine, setup.Machine.Reads);
        foreach (var property in Writable(typeof(Machine)).Where(p => p.Name is not ("Name" or "Reads")))
            Differs(setup with { Machine = Changed(machine, property) }, property);
        foreach (var property in Writable(typeof(Reads)))
            Differs(setup with { Machine = machine with { Reads = Changed(reads, property) } }, property);
        Differs(setup with { Units = Units.Millimetre }, typeof(Setup).GetProperty(nameof(setup.Units))!);

        void Differs(Setup other, PropertyInfo property) =>
            Assert.True(
                MachineComparison.Of(setup, other) is { Count: > 0 } told
                    && told.All(d => d.Was != d.Now && d.Means.Length > 0),
                property.Name + " is not compared"
            );
    }

    static IEnumerable<PropertyInfo> Writable(Type type) =>
        type.GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => p.CanWrite);

    static T Changed<T>(T from, PropertyInfo property)
        where T : class
    {
        var copy = (T)typeof(T).GetMethod("<Clone>$")!.Invoke(from, [])!;
        property.SetValue(copy, Other(property.GetValue(from), property.PropertyType));
        return copy;
    }

    static object? Other(object? value, Type type)
    {
        type = Nullable.GetUnderlyingType(type) ?? type;
        if (type == typeof(bool))
            return !(bool)value!;
        if (type.IsEnum)
            return Enum.GetValues(type).Cast<object>().First(v => !v.Equals(value));
        if (type == typeof(Length))
            return (value as Length? ?? Length.Zero) + Length.FromNanometres(25_400);
        if (type == typeof(decimal))
            return (value as decimal? ?? 0) + 7;
        if (type == typeof(long))
            return (value as long? ?? 0) + 25_400;
        if (type == typeof(string))
            return value + "Q";
        if (type == typeof(Travel))
            return new Travel(Wider(((Travel)value!).X), ((Travel)value).Y, ((Travel)value).Z);
        if (type == typeof(Offset))
            return value is Offset at
                ? at with
                {
                    Z = (at.Z ?? Length.Zero) + Length.FromNanometres(25_400),
                }
                : new Offset(Length.Zero, null, null);
        if (type == typeof(AxisRates))
            return value is AxisRates rates ? rates with { Z = rates.Z + 1 } : new AxisRates(1, 1, 1);
        if (type == typeof(IReadOnlyList<string>))
            return new[] { "M199" };
        if (type == typeof(IReadOnlyList<AirCutRate>))
            return new[] { new AirCutRate(1, 2) };
        throw new NotSupportedException(type + " has no other value here");
    }

    static Handwheel.Jobs.Setups.Range Wider(Handwheel.Jobs.Setups.Range range) =>
        range with
        {
            High = range.High + Length.FromNanometres(25_400),
        };

    [Fact]
    public void Two_machines_in_other_units_are_compared_by_what_they_are_not_by_how_it_is_written()
    {
        var inch = Setup;
        var metric = inch with
        {
            Units = Units.Millimetre,
            Machine = inch.Machine with
            {
                LeastIncrement = inch.LeastIncrement,
                MaxFeed = inch.Machine.MaxFeed * 25.4m,
                Rapid = Metric(inch.Machine.Rapid),
                Acceleration = Metric(inch.Machine.Acceleration),
                AirCutRates = [.. inch.Machine.AirCutRates.Select(r => new AirCutRate(r.Cut * 25.4m, r.Rapid * 25.4m))],
            },
        };
        Assert.Equal(["Units of the registers"], MachineComparison.Of(inch, metric).Select(d => d.What));

        static AxisRates? Metric(AxisRates? rates) =>
            rates is { } r ? new AxisRates(r.X * 25.4m, r.Y * 25.4m, r.Z * 25.4m) : null;
    }

    [Fact]
    public void A_difference_is_told_with_both_values_their_unit_and_what_it_changes()
    {
        var other = Setup with
        {
            Machine = Setup.Machine with
            {
                Travel = Setup.Machine.Travel with { Z = new(Length.From(-20, Units.Inch), Length.Zero) },
            },
        };
        var told = Assert.Single(MachineComparison.Of(Setup, other));
        Assert.Equal("Z travel: was -25 to 0 in, is -20 to 0 in. " + told.Means, told.ToString());
    }
}
