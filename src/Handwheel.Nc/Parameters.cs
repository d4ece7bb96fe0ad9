using System.Globalization;

namespace Handwheel.Nc;

enum ValueKind : byte
{
    Known,

    /// <summary>Null: never filled. Counts 0 in a sum; a word with it counts as not written (common practice).</summary>
    Vacant,

    /// <summary>Nobody can know it. The reason has been said as a fault; what is computed from it is not known either.</summary>
    Unknown,
}

/// <summary>The value of a parameter or an expression; <see cref="Number"/> is 0 unless it is known.</summary>
/// <param name="Raise">
/// How much the value grows with the raise of the work offsets: 0 not at all, 1 like a raised register, NaN in a way that cannot be told.
/// </param>
readonly record struct ParameterValue(double Number, ValueKind Kind, double Raise = 0)
{
    public static ParameterValue Vacant => new(0, ValueKind.Vacant);
    public static ParameterValue Unknown => new(0, ValueKind.Unknown);

    public static ParameterValue Of(double number) => new(number, ValueKind.Known);

    public bool IsUnknown => Kind == ValueKind.Unknown;

    /// <summary>With the work offsets raised it is another value.</summary>
    public bool DependsOnRaise => Raise != 0;

    public ParameterValue Negative => this with { Number = -Number, Raise = -Raise };
}

/// <summary>Which parameter: a number, or a name in its normal spelling.</summary>
readonly record struct ParameterName(int Number, string? Name)
{
    public override string ToString() =>
        Name != null ? "#<" + Name + ">" : "#" + Number.ToString(CultureInfo.InvariantCulture);
}

/// <summary>
/// The parameters of a run. #1 to #33, and names without a leading underscore, belong to a macro call; all others to the whole run. A local
/// that a macro call was not given is vacant; a parameter that was never filled otherwise has no value that anybody can know.
/// </summary>
sealed class Parameters
{
    public const int LocalsMost = 33;

    /// <summary>More names are no program's; keeps memory bounded. Numbers are bounded by what a number may be.</summary>
    const int NamesMost = 100_000;

    readonly Dictionary<int, ParameterValue> common = [];
    readonly Dictionary<string, ParameterValue> commonNames = new(StringComparer.Ordinal);
    readonly Stack<Level> levels = new([new(new ParameterValue?[LocalsMost + 1], new(StringComparer.Ordinal))]);
    readonly HashSet<ParameterName> missed = [];

    sealed record Level(ParameterValue?[] Locals, Dictionary<string, ParameterValue> Names);

    public Parameters(IReadOnlyDictionary<int, double> given)
    {
        foreach (var (number, value) in given)
            Set(new(number, null), new(value, ValueKind.Known, MayBeRaised(number) ? double.NaN : 0));
    }

    /// <summary>Numbers that are positions or work offsets on some control: a value read there is another one when the work offsets are raised.</summary>
    static bool MayBeRaised(int number) =>
        number is (>= 2500 and < 3000) or (>= 5000 and < 6000) or (>= 7000 and < 8000) or (>= 14_000 and < 20_000);

    /// <summary>Parameters that the control keeps up itself; null for a number that is none, or whose value is not known.</summary>
    public Func<int, ParameterValue?> System { get; set; } = static _ => null;

    /// <summary>A parameter has been read or written: the program need not do the same when it runs again.</summary>
    public bool Used { get; set; }

    /// <summary>Grows with every value that becomes another one, and with every reading of what the control keeps up.</summary>
    public long Changed { get; private set; }

    /// <summary>Null: nobody can know it.</summary>
    public ParameterValue? Get(ParameterName name)
    {
        var level = levels.Peek();
        if (name.Name is { } text)
        {
            var names = text[0] == '_' ? commonNames : level.Names;
            return names.TryGetValue(text, out var named) ? named : null;
        }
        if (name.Number == 0)
            return ParameterValue.Vacant;
        if (name.Number <= LocalsMost)
            return level.Locals[name.Number] ?? (levels.Count > 1 ? ParameterValue.Vacant : null);
        if (System(name.Number) is { } kept)
        {
            Changed++;
            return kept;
        }
        return common.TryGetValue(name.Number, out var value) ? value : null;
    }

    /// <summary>False: there are too many names to keep one more.</summary>
    public bool Set(ParameterName name, ParameterValue value)
    {
        var level = levels.Peek();
        if (name.Name is { } text)
        {
            var names = text[0] == '_' ? commonNames : level.Names;
            if (names.Count >= NamesMost && !names.ContainsKey(text))
                return false;
            Changed += names.TryGetValue(text, out var former) && former.Equals(value) ? 0 : 1;
            names[text] = value;
        }
        else if (name.Number <= LocalsMost)
        {
            Changed += level.Locals[name.Number] is { } former && former.Equals(value) ? 0 : 1;
            level.Locals[name.Number] = value;
        }
        else
        {
            Changed += common.TryGetValue(name.Number, out var former) && former.Equals(value) ? 0 : 1;
            common[name.Number] = value;
        }
        return true;
    }

    /// <summary>True the first time only.</summary>
    public bool Misses(ParameterName name) => missed.Count < NamesMost && missed.Add(name);

    /// <summary>A macro call begins, with these locals.</summary>
    public void Enter(ReadOnlySpan<ParameterValue?> locals) =>
        levels.Push(new(locals.ToArray(), new(StringComparer.Ordinal)));

    public void Leave() => levels.Pop();
}
