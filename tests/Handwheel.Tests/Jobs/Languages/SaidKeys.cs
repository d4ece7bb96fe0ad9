using System.Globalization;
using System.Text;

namespace Handwheel.Tests.Jobs.Languages;

/// <summary>The texts that sources ask for: <c>Said.In($"Read {x}")</c> in code and <c>said`Read ${x}`</c> in a script both ask for <c>Read {0}</c>.</summary>
static class SaidKeys
{
    const string Call = "Said.In(";
    const string KeptCall = "Said.Kept(";
    const string Tag = "said`";

    /// <exception cref="FormatException">A call whose text does not stand in it: it could not be checked.</exception>
    public static IEnumerable<string> InCode(string source) => InCalls(source, Call);

    /// <summary>Those that are kept in English and said later.</summary>
    /// <exception cref="FormatException">As above.</exception>
    public static IEnumerable<string> KeptInCode(string source) => InCalls(source, KeptCall);

    static IEnumerable<string> InCalls(string source, string call)
    {
        for (var at = Next(source, call, 0); at >= 0; at = Next(source, call, at))
            yield return CodeText(source, at);
    }

    public static IEnumerable<string> InScript(string source)
    {
        for (var at = Next(source, Tag, 0); at >= 0; at = Next(source, Tag, at))
            yield return new Scan(source, at).Literal('`', "${", doubledBraces: false);
    }

    static int Next(string source, string word, int from)
    {
        var at = source.IndexOf(word, from, StringComparison.Ordinal);
        return at < 0 ? -1 : at + word.Length;
    }

    /// <summary>One literal, or several that are joined by +.</summary>
    static string CodeText(string source, int at)
    {
        var scan = new Scan(source, at);
        var text = new StringBuilder();
        do
        {
            scan.Blanks();
            var interpolated = scan.Takes('$');
            if (!scan.Takes('"'))
                throw new FormatException($"no text stands in: {source.Substring(at, 40)}");
            text.Append(scan.Literal('"', interpolated ? "{" : null, doubledBraces: interpolated));
            scan.Blanks();
        } while (scan.Takes('+'));
        return text.ToString();
    }

    sealed class Scan(string source, int start)
    {
        int at = start;
        int values;

        public void Blanks()
        {
            while (char.IsWhiteSpace(source[at]))
                at++;
        }

        public bool Takes(char c)
        {
            if (source[at] != c)
                return false;
            at++;
            return true;
        }

        /// <summary>Up to and with its end; each hole becomes the number of its value.</summary>
        public string Literal(char end, string? hole, bool doubledBraces)
        {
            var text = new StringBuilder();
            while (!Takes(end))
            {
                if (doubledBraces && source[at] is '{' or '}' && source[at + 1] == source[at])
                {
                    text.Append(source, at, 2);
                    at += 2;
                }
                else if (hole is not null && string.CompareOrdinal(source, at, hole, 0, hole.Length) == 0)
                {
                    at += hole.Length;
                    Hole();
                    text.Append(CultureInfo.InvariantCulture, $"{{{values++}}}");
                }
                else if (source[at] == '\\')
                    text.Append(Escaped());
                else
                    text.Append(source[at++]);
            }
            return text.ToString();
        }

        char Escaped()
        {
            at++;
            return source[at++] switch
            {
                'n' => '\n',
                't' => '\t',
                var same => same,
            };
        }

        void Hole()
        {
            var depth = 0;
            for (; depth > 0 || source[at] != '}'; at++)
            {
                if (source[at] is '"' or '`')
                    Nested();
                else if (source[at] is '{' or '(' or '[')
                    depth++;
                else if (source[at] is '}' or ')' or ']')
                    depth--;
            }
            at++;
        }

        /// <summary>A text inside a hole; it is asked for by a call of its own, or by none.</summary>
        void Nested()
        {
            var quote = source[at];
            var interpolated = at > 0 && source[at - 1] == '$';
            at++;
            new Scan(source, at).SkipTo(
                quote,
                quote == '`' ? "${"
                    : interpolated ? "{"
                    : null,
                out at
            );
            at--;
        }

        void SkipTo(char end, string? hole, out int after)
        {
            _ = Literal(end, hole, doubledBraces: hole is "{");
            after = at;
        }
    }
}
