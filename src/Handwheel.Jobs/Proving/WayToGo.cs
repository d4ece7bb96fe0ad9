using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>
/// A distance-to-go beside a machine Z that is read blind. From machine zero both have the same digits: the way
/// is then given as coarsely as an eye compares it with air, and left out where that would be the very value.
/// </summary>
public static class WayToGo
{
    public static string? Text(Length toGo, Length? blindMachineZ, Units units)
    {
        if (blindMachineZ is not { } blind || Length.Abs(toGo) != Length.Abs(blind))
            return toGo.ToRegisterText(units);
        var decimals = units == Units.Inch ? 1 : 0;
        var coarse = Length.From(decimal.Round(toGo.In(units), decimals, MidpointRounding.AwayFromZero), units);
        return coarse == toGo ? null : Said.In("about ") + toGo.ToString(units, decimals);
    }
}
