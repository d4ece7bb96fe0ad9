namespace Handwheel.Nc;

/// <summary>
/// What coordinates rest on: sums of registers whose values nobody gave, each kind of sum with its own number (see
/// <see cref="Place"/>). A register added and taken away again is gone, so that shifts set from a place stay comparable with it.
/// </summary>
sealed class Rests
{
    const int KindsMost = 100_000;

    readonly List<(int Register, int Times)[]> kinds =
    [
        [],
    ];
    readonly Dictionary<string, int> numbers = new(StringComparer.Ordinal) { [""] = 0 };

    /// <summary>Resting on this register alone.</summary>
    public int On(int register) => register == 0 ? 0 : Number([(register, 1)]);

    public int Sum(int a, int b) => a == 0 ? b : Combine(a, b, 1);

    public int Difference(int a, int b) => a == b ? 0 : Combine(a, b, -1);

    int Combine(int a, int b, int sign)
    {
        if (b == 0)
            return a;
        var times = new SortedDictionary<int, int>();
        foreach (var (register, count) in Kind(a))
            times[register] = count;
        foreach (var (register, count) in Kind(b))
            times[register] = times.GetValueOrDefault(register) + sign * count;
        return Number([.. times.Where(t => t.Value != 0).Select(t => (t.Key, t.Value))]);
    }

    (int Register, int Times)[] Kind(int number) => number == Place.Nowhere ? [(Place.Nowhere, 1)] : kinds[number];

    int Number((int Register, int Times)[] kind)
    {
        if (kind is [(Place.Nowhere, 1)])
            return Place.Nowhere;
        var key = string.Join(' ', kind);
        if (numbers.TryGetValue(key, out var number))
            return number;
        if (kinds.Count >= KindsMost)
            return kinds.Count - 1;
        kinds.Add(kind);
        numbers[key] = kinds.Count - 1;
        return kinds.Count - 1;
    }
}
