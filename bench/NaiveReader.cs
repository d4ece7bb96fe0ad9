using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Handwheel.Bench;

/// <summary>
/// A reader as a hurried developer would write it: one regular expression for words, a dictionary for each block, double.Parse, and the
/// same modal state. It follows what the programs here contain and sums up the same figures.
/// </summary>
sealed partial class NaiveReader
{
    readonly double[] position = new double[3];
    readonly double[] low = [double.MaxValue, double.MaxValue, double.MaxValue];
    readonly double[] high = [double.MinValue, double.MinValue, double.MinValue];
    Dictionary<int, int> programs = [];
    string[] lines = [];
    string motion = "";
    bool incremental;
    double r;
    double bottom;
    double peck;
    double initial;

    public double Cut { get; private set; }
    public double Rapid { get; private set; }
    public long Blocks { get; private set; }
    public double LowestZ => low[2];

    [GeneratedRegex(
        @"(?<letter>[A-Z])\s*(?<number>[+-]?\d*\.?\d*)",
        RegexOptions.ExplicitCapture,
        matchTimeoutMilliseconds: 60_000
    )]
    private static partial Regex Words();

    [GeneratedRegex(@"\([^)]*\)", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 60_000)]
    private static partial Regex Comments();

    public void Run(byte[] program)
    {
        lines = Encoding.UTF8.GetString(program).Split('\n');
        programs = Enumerable
            .Range(0, lines.Length)
            .Where(i => lines[i].StartsWith('O'))
            .ToDictionary(i => int.Parse(lines[i].AsSpan(1, 4), CultureInfo.InvariantCulture));
        Follow(0);
    }

    void Follow(int line)
    {
        for (; line < lines.Length; line++)
        {
            var block = Comments().Replace(lines[line], "");
            var words = new Dictionary<char, double>();
            var codes = new List<string>();
            foreach (Match match in Words().Matches(block))
            {
                var letter = match.Groups["letter"].Value[0];
                var number = double.Parse(match.Groups["number"].Value, CultureInfo.InvariantCulture);
                if (letter is 'G' or 'M')
                    codes.Add(letter + number.ToString(CultureInfo.InvariantCulture));
                else
                    words[letter] = number;
            }
            if (codes.Count + words.Keys.Count(k => k is not ('N' or 'O')) == 0)
                continue;
            Blocks++;
            Execute(codes, words);
            if (codes.Contains("M98"))
                Follow(programs[(int)words['P']]);
            else if (codes.Contains("M99") || codes.Contains("M30"))
                return;
        }
    }

    void Execute(List<string> codes, Dictionary<char, double> words)
    {
        foreach (var code in codes)
        {
            if (code is "G0" or "G1" or "G2" or "G3")
                motion = code;
            else if (code is "G83" or "G84")
                (motion, initial) = (code, position[2]);
            else if (code == "G80")
                motion = "G0";
            else if (code is "G90" or "G91")
                incremental = code == "G91";
        }
        if (codes.Contains("M6"))
        {
            position[2] = 0;
            return;
        }
        if (codes.Contains("G28"))
        {
            Go(position[0], position[1], 0, false);
            return;
        }
        if (motion is "G83" or "G84")
            Drill(words);
        else if (words.ContainsKey('X') || words.ContainsKey('Y') || words.ContainsKey('Z') || words.ContainsKey('I'))
            Move(words);
    }

    double Target(Dictionary<char, double> words, char letter, int axis) =>
        !words.TryGetValue(letter, out var value) ? position[axis]
        : incremental ? position[axis] + value
        : value;

    void Move(Dictionary<char, double> words)
    {
        var (x, y, z) = (Target(words, 'X', 0), Target(words, 'Y', 1), Target(words, 'Z', 2));
        if (motion is "G2" or "G3")
            Arc(words, x, y);
        else
            Go(x, y, z, motion == "G1");
    }

    void Arc(Dictionary<char, double> words, double x, double y)
    {
        var (dx, dy) = (x - position[0], y - position[1]);
        double i,
            j;
        if (words.TryGetValue('R', out var radius))
        {
            var chord = Math.Sqrt(dx * dx + dy * dy);
            var height = Math.Sqrt(Math.Max(0, radius * radius - chord * chord / 4)) * (motion == "G2" ? 1 : -1);
            (i, j) = (dx / 2 + height * dy / chord, dy / 2 - height * dx / chord);
        }
        else
        {
            i = words.GetValueOrDefault('I');
            j = words.GetValueOrDefault('J');
        }
        var sweep = Math.Atan2(dy - j, dx - i) - Math.Atan2(-j, -i);
        if (motion == "G2" && sweep >= 0)
            sweep -= Math.Tau;
        if (motion == "G3" && sweep <= 0)
            sweep += Math.Tau;
        Cut += Math.Sqrt(i * i + j * j) * Math.Abs(sweep);
        (position[0], position[1]) = (x, y);
        Extend();
    }

    void Drill(Dictionary<char, double> words)
    {
        r = words.GetValueOrDefault('R', r);
        bottom = words.GetValueOrDefault('Z', bottom);
        peck = words.GetValueOrDefault('Q', peck);
        Go(Target(words, 'X', 0), Target(words, 'Y', 1), position[2], false);
        Go(position[0], position[1], r, false);
        if (motion == "G84")
        {
            Go(position[0], position[1], bottom, true);
            Go(position[0], position[1], r, true);
            return;
        }
        for (var depth = r; depth > bottom + 1e-9; )
        {
            depth = Math.Max(bottom, depth - peck);
            Go(position[0], position[1], depth, true);
            Go(position[0], position[1], r, false);
            if (depth > bottom + 1e-9)
                Go(position[0], position[1], depth, false);
        }
    }

    void Go(double x, double y, double z, bool cut)
    {
        var (dx, dy, dz) = (x - position[0], y - position[1], z - position[2]);
        var length = Math.Sqrt(dx * dx + dy * dy + dz * dz);
        if (cut)
            Cut += length;
        else
            Rapid += length;
        (position[0], position[1], position[2]) = (x, y, z);
        Extend();
    }

    void Extend()
    {
        for (var axis = 0; axis < 3; axis++)
        {
            low[axis] = Math.Min(low[axis], position[axis]);
            high[axis] = Math.Max(high[axis], position[axis]);
        }
    }
}
