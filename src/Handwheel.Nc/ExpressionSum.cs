namespace Handwheel.Nc;

enum Operator : byte
{
    Power,
    Times,
    Divide,
    Plus,
    Minus,
    Mod,
    And,
    Or,
    Xor,
    Eq,
    Ne,
    Gt,
    Ge,
    Lt,
    Le,
}

/// <summary>
/// Values and the operators between them. Powers go first, then × ÷ MOD, then + − AND OR XOR, from left to right (NISTIR 6556,
/// 3.3.2.3). Where a comparison stands among them it goes after + and −, and AND OR XOR after it (common practice).
/// </summary>
sealed class ExpressionSum(Reads reads)
{
    const int Levels = 5;

    /// <summary>Numbers nearer than this, in proportion, compare as equal: controls count in decimals, and 0.1 ten times is 1 there.</summary>
    const double SameWithin = 1e-9;

    readonly List<ParameterValue> values = [];
    readonly List<Operator> operators = [];

    public void Clear()
    {
        values.Clear();
        operators.Clear();
    }

    /// <summary>A sum begins, perhaps inside another.</summary>
    public (int Values, int Operators) Begin() => (values.Count, operators.Count);

    public void Add(ParameterValue value) => values.Add(value);

    public void Add(Operator sign) => operators.Add(sign);

    /// <summary>Works out what was added since <paramref name="first"/>; <paramref name="refusal"/> says why it has no value.</summary>
    public ParameterValue Take((int Values, int Operators) first, out string? refusal)
    {
        refusal = null;
        var compares = false;
        for (var i = first.Operators; i < operators.Count; i++)
            compares |= operators[i] >= Operator.Eq;
        for (var level = 0; level < Levels && operators.Count > first.Operators; level++)
            Fold(first, level, compares, ref refusal);
        var value = values[first.Values];
        values.RemoveRange(first.Values, values.Count - first.Values);
        return value;
    }

    /// <summary>Works out the operators of one level, closing up behind itself.</summary>
    void Fold((int Values, int Operators) first, int level, bool compares, ref string? refusal)
    {
        var kept = 0;
        for (var i = first.Operators; i < operators.Count; i++)
        {
            var right = values[first.Values + (i - first.Operators) + 1];
            if (LevelOf(operators[i], compares) == level)
            {
                values[first.Values + kept] = Apply(operators[i], values[first.Values + kept], right, ref refusal);
                continue;
            }
            operators[first.Operators + kept] = operators[i];
            kept++;
            values[first.Values + kept] = right;
        }
        operators.RemoveRange(first.Operators + kept, operators.Count - first.Operators - kept);
        values.RemoveRange(first.Values + kept + 1, values.Count - first.Values - kept - 1);
    }

    static int LevelOf(Operator sign, bool compares) =>
        sign switch
        {
            Operator.Power => 0,
            Operator.Times or Operator.Divide or Operator.Mod => 1,
            Operator.Plus or Operator.Minus => 2,
            Operator.And or Operator.Or or Operator.Xor => compares ? 4 : 2,
            _ => 3,
        };

    ParameterValue Apply(Operator sign, ParameterValue left, ParameterValue right, ref string? refusal)
    {
        if (left.IsUnknown || right.IsUnknown)
            return ParameterValue.Unknown;
        var vacant = left.Kind == ValueKind.Vacant || right.Kind == ValueKind.Vacant;
        if (vacant && sign is (Operator.Eq or Operator.Ne))
            return Truth(left.Kind == right.Kind == (sign == Operator.Eq));
        var (a, b) = (left.Number, right.Number);
        double? result = sign switch
        {
            Operator.Power => Math.Pow(a, b),
            Operator.Times => a * b,
            Operator.Divide => b == 0 ? null : a / b,
            Operator.Mod => b == 0 ? null : a - b * Math.Floor(a / b),
            Operator.Plus => a + b,
            Operator.Minus => a - b,
            Operator.And or Operator.Or or Operator.Xor => Logic(sign, a, b),
            _ => Compare(sign, a, b) ? 1 : 0,
        };
        if (result is { } number && double.IsFinite(number))
            return new(number, ValueKind.Known, Raise(sign, left, right));
        refusal ??= sign is Operator.Divide or Operator.Mod
            ? "a division by zero"
            : Spelled(sign) + " without a result";
        return ParameterValue.Unknown;
    }

    /// <summary>How the result grows with the raise of the work offsets, by how its parts do.</summary>
    static double Raise(Operator sign, in ParameterValue left, in ParameterValue right)
    {
        if (!left.DependsOnRaise && !right.DependsOnRaise)
            return 0;
        return sign switch
        {
            Operator.Plus => left.Raise + right.Raise,
            Operator.Minus => left.Raise - right.Raise,
            Operator.Times when !left.DependsOnRaise => left.Number * right.Raise,
            Operator.Times when !right.DependsOnRaise => left.Raise * right.Number,
            Operator.Divide when !right.DependsOnRaise => left.Raise / right.Number,
            >= Operator.Eq when left.Raise == right.Raise => 0,
            _ => double.NaN,
        };
    }

    double? Logic(Operator sign, double a, double b)
    {
        if (!reads.LogicIsBitwise)
            return (sign, a != 0, b != 0) switch
            {
                (Operator.And, var p, var q) => p && q ? 1 : 0,
                (Operator.Or, var p, var q) => p || q ? 1 : 0,
                (_, var p, var q) => p != q ? 1 : 0,
            };
        if (Bits(a) is not { } left || Bits(b) is not { } right)
            return null;
        return sign switch
        {
            Operator.And => left & right,
            Operator.Or => left | right,
            _ => left ^ right,
        };
    }

    static int? Bits(double value) =>
        Math.Abs(value - Math.Round(value)) <= 0.0001 && Math.Abs(value) <= int.MaxValue
            ? (int)Math.Round(value)
            : null;

    static bool Compare(Operator sign, double a, double b)
    {
        var same = Math.Abs(a - b) <= SameWithin * Math.Max(1, Math.Max(Math.Abs(a), Math.Abs(b)));
        return sign switch
        {
            Operator.Eq => same,
            Operator.Ne => !same,
            Operator.Gt => !same && a > b,
            Operator.Ge => same || a > b,
            Operator.Lt => !same && a < b,
            _ => same || a < b,
        };
    }

    static ParameterValue Truth(bool value) => ParameterValue.Of(value ? 1 : 0);

    public static string Spelled(Operator sign) =>
        sign switch
        {
            Operator.Power => "**",
            Operator.Times => "*",
            Operator.Divide => "/",
            Operator.Plus => "+",
            Operator.Minus => "-",
            Operator.Mod => "MOD",
            Operator.And => "AND",
            Operator.Or => "OR",
            Operator.Xor => "XOR",
            Operator.Eq => "EQ",
            Operator.Ne => "NE",
            Operator.Gt => "GT",
            Operator.Ge => "GE",
            Operator.Lt => "LT",
            _ => "LE",
        };
}
