namespace Handwheel.Nc;

/// <summary>Where a block begins: its text, the byte and the line.</summary>
readonly record struct TextPlace(int File, int Pos, int Line);

/// <summary>The texts of a run: the main program, and the files of subprograms in the order they were opened.</summary>
sealed class ProgramTexts(ReadOnlyMemory<byte> program, Func<int, byte[]?>? open)
{
    readonly List<ReadOnlyMemory<byte>> texts = [program];
    readonly List<Dictionary<int, TextPlace>?> indexes = [null];
    readonly Dictionary<int, TextPlace?> opened = [];

    public ReadOnlyMemory<byte> this[int file] => texts[file];

    /// <summary>Where program <paramref name="number"/> begins: in the text that calls it, in the main one, or in a file of its own.</summary>
    public TextPlace? Find(int number, int caller)
    {
        if (Index(caller).TryGetValue(number, out var place) || Index(0).TryGetValue(number, out place))
            return place;
        if (!opened.TryGetValue(number, out var found))
            opened[number] = found = Open(number);
        return found;
    }

    TextPlace? Open(int number)
    {
        if (open?.Invoke(number) is not { } bytes)
            return null;
        texts.Add(bytes);
        indexes.Add(null);
        var file = texts.Count - 1;
        return Index(file).TryGetValue(number, out var place) ? place : new TextPlace(file, 0, 1);
    }

    /// <summary>Program numbers, O or colon, that begin a line.</summary>
    Dictionary<int, TextPlace> Index(int file)
    {
        if (indexes[file] is { } known)
            return known;
        var index = new Dictionary<int, TextPlace>();
        var text = texts[file].Span;
        var line = 1;
        for (var pos = 0; pos < text.Length; line++)
        {
            var length = text[pos..].IndexOfAny((byte)'\n', (byte)'\r');
            var end = length < 0 ? text.Length : pos + length;
            if (NumberOf(text[pos..end]) is { } number)
                index.TryAdd(number, new(file, pos, line));
            pos = BlockReader.AfterLineEnd(text, end);
        }
        return indexes[file] = index;
    }

    static int? NumberOf(ReadOnlySpan<byte> block)
    {
        block = block.TrimStart(" \t\0%\uFEFF"u8);
        if (block.Length < 2 || block[0] is not ((byte)'O' or (byte)'o' or (byte)':'))
            return null;
        var number = 0;
        var digits = 0;
        foreach (var c in block[1..])
        {
            if (c - '0' is >= 0 and <= 9)
                (number, digits) = (number * 10 + c - '0', digits + 1);
            else if (c is not ((byte)' ' or (byte)'\t'))
                break;
            if (digits > 9)
                return null;
        }
        return digits > 0 ? number : null;
    }
}
