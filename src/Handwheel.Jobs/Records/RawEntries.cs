using System.Text;

namespace Handwheel.Jobs.Records;

/// <summary>
/// Follows the chain through the bytes of a record that cannot be read as JSON any more, so that the first bad entry has a
/// name even where a bracket or a quote was changed.
/// </summary>
static class RawEntries
{
    /// <summary>The first entry that is not as it was hashed; null: none is, or the record does not even say whose chain it is.</summary>
    public static long? FirstBroken(ReadOnlySpan<byte> document)
    {
        if (!Log(document, out var log))
            return null;
        var at = document.IndexOf("\"entries\":["u8);
        if (at < 0)
            return null;
        at += "\"entries\":["u8.Length;
        var hash = RecordChain.Start;
        for (long number = 1; ; number++)
        {
            var rest = document[at..];
            if (number == 1 && rest.StartsWith("]"u8))
                return null;
            if (!Entry(rest, out var body, out var stated, out var length))
                return number;
            hash = RecordChain.Next(log, number, hash, body);
            if (!stated.SequenceEqual(Encoding.ASCII.GetBytes(Convert.ToHexStringLower(hash))))
                return number;
            at += length;
            if (document[at..].StartsWith("]"u8))
                return null;
            if (!document[at..].StartsWith(","u8))
                return number + 1;
            at++;
        }
    }

    static bool Entry(ReadOnlySpan<byte> from, out ReadOnlySpan<byte> body, out ReadOnlySpan<byte> hash, out int length)
    {
        body = hash = [];
        length = 0;
        // A quote inside a text is written \", so these bytes stand between members and nowhere else.
        var start = "{\"body\":"u8;
        var middle = ",\"hash\":\""u8;
        var end = from.IndexOf(middle);
        if (!from.StartsWith(start) || end < 0 || from.Length < end + middle.Length + 66)
            return false;
        body = from[start.Length..end];
        hash = from.Slice(end + middle.Length, 64);
        length = end + middle.Length + 66;
        return from[(length - 2)..length].SequenceEqual("\"}"u8);
    }

    static bool Log(ReadOnlySpan<byte> document, out Guid log)
    {
        log = default;
        var name = "\"log\":\""u8;
        var at = document.IndexOf(name);
        return at >= 0
            && document.Length >= at + name.Length + 36
            && Guid.TryParse(Encoding.ASCII.GetString(document.Slice(at + name.Length, 36)), out log);
    }
}
