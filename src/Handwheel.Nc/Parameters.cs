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
readonly record struct ParameterValue(double Number, ValueKind Kind)
{
    public static ParameterValue Vacant => new(0, ValueKind.Vacant);
    public static ParameterValue Unknown => new(0, ValueKind.Unknown);

    public static ParameterValue Of(double number) => new(number, ValueKind.Known);

    public bool IsUnknown => Kind == ValueKind.Unknown;
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

    /// <summary>More are no program's; keeps memory bounded.</summary>
    const int NamesMost = 100_000;

    readonly Dictionary<int, ParameterValue> common = [];
    readonly Dictionary<string, ParameterValue> commonNames = new(StringComparer.Ordinal);
    readonly Stack<Level> levels = new([new(new ParameterValue?[LocalsMost + 1], new(StringComparer.Ordinal))]);
    readonly HashSet<ParameterName> missed = [];

    sealed record Level(ParameterValue?[] Locals, Dictionary<string, ParameterValue> Names);

    public Parameters(IReadOnlyDictionary<int, double> given)
    {
        foreach (var (number, value) in given)
            Set(new(number, null), ParameterValue.Of(value));
    }

    /// <summary>Parameters that the control keeps up itself; null for a number that is none, or whose value is not known.</summary>
    public Func<int, ParameterValue?> System { get; set; } = static _ => null;

    /// <summary>A parameter has been read or written: the program need not do the same when it runs again.</summary>
    public bool Used { get; set; }

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
            return kept;
        return common.TryGetValue(name.Number, out var value) ? value : null;
    }

    public void Set(ParameterName name, ParameterValue value)
    {
        var level = levels.Peek();
        if (name.Name is { } text)
        {
            var names = text[0] == '_' ? commonNames : level.Names;
            if (names.Count < NamesMost || names.ContainsKey(text))
                names[text] = value;
        }
        else if (name.Number <= LocalsMost)
        {
            level.Locals[name.Number] = value;
        }
        else if (common.Count < NamesMost || common.ContainsKey(name.Number))
        {
            common[name.Number] = value;
        }
    }

    /// <summary>True the first time only.</summary>
    public bool Misses(ParameterName name) => missed.Count < NamesMost && missed.Add(name);

    /// <summary>A macro call begins, with these locals.</summary>
    public void Enter(ReadOnlySpan<ParameterValue?> locals) =>
        levels.Push(new(locals.ToArray(), new(StringComparer.Ordinal)));

    public void Leave() => levels.Pop();
}
