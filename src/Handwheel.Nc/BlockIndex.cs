namespace Handwheel.Nc;

/// <summary>Where the blocks of one text are that others go to: program numbers and names, block numbers, ends of loops.</summary>
sealed class BlockIndex
{
    readonly ReadOnlyMemory<byte> text;
    readonly int file;
    readonly Dictionary<int, TextPlace> programs = [];
    readonly Dictionary<string, TextPlace> names = new(StringComparer.Ordinal);
    readonly Dictionary<int, List<TextPlace>> blocks = [];
    readonly Dictionary<int, List<TextPlace>> loopEnds = [];
    readonly List<int> programStarts = [0];
    bool hasBlocks;

    public BlockIndex(ReadOnlyMemory<byte> text, int file)
    {
        this.text = text;
        this.file = file;
        FindPrograms(text.Span);
    }

    /// <summary>Few lines have one of the letters that begin a program, so that most of the text is passed over many bytes at a time.</summary>
    void FindPrograms(ReadOnlySpan<byte> text)
    {
        var line = 1;
        var counted = 0;
        for (var from = 0; text[from..].IndexOfAny((byte)'O', (byte)'o', (byte)':') is >= 0 and var found; )
        {
            var at = from + found;
            var start = from + text[from..at].LastIndexOfAny((byte)'\n', (byte)'\r') + 1;
            var length = text[at..].IndexOfAny((byte)'\n', (byte)'\r');
            var end = length < 0 ? text.Length : at + length;
            line += LineEnds(text[counted..start]);
            counted = start;
            var block = text[start..end];
            if (BeginsProgram(ref block))
                AddProgram(block, new(file, start, line));
            from = end;
        }
    }

    static int LineEnds(ReadOnlySpan<byte> text)
    {
        var returns = text.Count((byte)'\r');
        return text.Count((byte)'\n') + (returns == 0 ? 0 : returns - text.Count("\r\n"u8));
    }

    void FindBlocks(ReadOnlySpan<byte> text)
    {
        hasBlocks = true;
        var line = 1;
        for (var pos = 0; pos < text.Length; line++)
        {
            var length = text[pos..].IndexOfAny((byte)'\n', (byte)'\r');
            var end = length < 0 ? text.Length : pos + length;
            var next = BlockReader.AfterLineEnd(text, end);
            Add(text[pos..end], new(file, pos, line), new(file, next, line + 1));
            pos = next;
        }
    }

    public TextPlace? Program(int number) => programs.TryGetValue(number, out var place) ? place : null;

    public TextPlace? Program(string name) => names.TryGetValue(name, out var place) ? place : null;

    /// <summary>The block with this number in the program around <paramref name="from"/>: the first behind it, else the first from the program's beginning.</summary>
    public TextPlace? Block(int number, int from) => Find(blocks, number, from, around: true);

    /// <summary>The block behind the first END of this number.</summary>
    public TextPlace? AfterLoop(int number, int from) => Find(loopEnds, number, from, around: false);

    TextPlace? Find(Dictionary<int, List<TextPlace>> places, int number, int from, bool around)
    {
        if (!hasBlocks)
            FindBlocks(text.Span);
        if (!places.TryGetValue(number, out var found))
            return null;
        var at = programStarts.BinarySearch(from);
        var program = at >= 0 ? at : ~at - 1;
        var (first, limit) = (
            programStarts[program],
            program + 1 < programStarts.Count ? programStarts[program + 1] : int.MaxValue
        );
        var behind = FirstFrom(found, from + 1);
        if (behind < found.Count && found[behind].Pos <= limit)
            return found[behind];
        var earlier = FirstFrom(found, first);
        return around && earlier < found.Count && found[earlier].Pos <= limit ? found[earlier] : null;
    }

    /// <summary>The first place at this byte or behind it; they stand in order.</summary>
    static int FirstFrom(List<TextPlace> places, int from)
    {
        var (low, high) = (0, places.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (places[middle].Pos < from)
                low = middle + 1;
            else
                high = middle;
        }
        return low;
    }

    void Add(ReadOnlySpan<byte> block, TextPlace place, TextPlace next)
    {
        if (BeginsProgram(ref block))
            return;
        if (Takes(ref block, 'N') && Number(ref block) is { } number)
            Put(blocks, number, place);
        if (Takes(ref block, 'E') && Takes(ref block, 'N') && Takes(ref block, 'D') && Number(ref block) is { } loop)
            Put(loopEnds, loop, next);
    }

    /// <summary>Passes over what may stand before every word of a block, and over the letter that begins a program.</summary>
    static bool BeginsProgram(ref ReadOnlySpan<byte> block)
    {
        while (block is [(byte)'%', ..] or [0xEF, ..] || (!block.IsEmpty && BlockReader.IsBlank(block[0])))
            block = block[(block[0] == 0xEF ? Math.Min(3, block.Length) : 1)..];
        if (Takes(ref block, '/') && block is [>= (byte)'1' and <= (byte)'9', ..])
            block = BlockReader.TrimBlanks(block[1..]);
        return Takes(ref block, 'O') || Takes(ref block, ':');
    }

    void AddProgram(ReadOnlySpan<byte> block, TextPlace place)
    {
        if (Takes(ref block, '<') && block.IndexOf((byte)'>') is var close and > 0)
            names.TryAdd(ProgramTexts.NormalName(block[..close]), place);
        else if (Number(ref block) is { } number)
            programs.TryAdd(number, place);
        else
            return;
        if (place.Pos > 0)
            programStarts.Add(place.Pos);
    }

    static void Put(Dictionary<int, List<TextPlace>> places, int number, TextPlace place)
    {
        if (!places.TryGetValue(number, out var list))
            places[number] = list = [];
        list.Add(place);
    }

    static bool Takes(ref ReadOnlySpan<byte> block, char mark)
    {
        if (block.IsEmpty || (block[0] != mark && BlockReader.Letter(block[0]) != mark))
            return false;
        block = BlockReader.TrimBlanks(block[1..]);
        return true;
    }

    /// <summary>Digits, with blanks between; null where there are none, or too many for a number.</summary>
    static int? Number(ref ReadOnlySpan<byte> block)
    {
        var number = 0;
        var digits = 0;
        var i = 0;
        for (; i < block.Length; i++)
        {
            if (block[i] - '0' is >= 0 and <= 9 and var digit)
                (number, digits) = (digits < 9 ? number * 10 + digit : number, digits + 1);
            else if (!BlockReader.IsBlank(block[i]))
                break;
        }
        block = block[i..];
        return digits is > 0 and <= 9 ? number : null;
    }
}
