using System.Text;

namespace Handwheel.Nc;

/// <summary>Where a block begins: its text, the byte and the line.</summary>
readonly record struct TextPlace(int File, int Pos, int Line);

/// <summary>The texts of a run: the main program, and the files of subprograms in the order they were opened.</summary>
sealed class ProgramTexts(ReadOnlyMemory<byte> program, Func<int, byte[]?>? open)
{
    readonly List<ReadOnlyMemory<byte>> texts = [program];
    readonly List<BlockIndex?> indexes = [null];
    readonly Dictionary<int, TextPlace?> opened = [];

    public ReadOnlyMemory<byte> this[int file] => texts[file];

    /// <summary>Where program <paramref name="number"/> begins: in the text that calls it, in the main one, or in a file of its own.</summary>
    public TextPlace? Find(int number, int caller)
    {
        if ((Index(caller).Program(number) ?? Index(0).Program(number)) is { } place)
            return place;
        if (!opened.TryGetValue(number, out var found))
            opened[number] = found = Open(number);
        return found;
    }

    /// <summary>The same for a program with a name: in the text that calls it, or in the main one.</summary>
    public TextPlace? Find(string name, int caller) => Index(caller).Program(name) ?? Index(0).Program(name);

    public BlockIndex Index(int file) => indexes[file] ??= new(texts[file].Span, file);

    /// <summary>A name as it is compared: small letters, no blanks around it.</summary>
    public static string NormalName(ReadOnlySpan<byte> name) =>
        Encoding.Latin1.GetString(name).Trim().ToLowerInvariant();

    TextPlace? Open(int number)
    {
        if (open?.Invoke(number) is not { } bytes)
            return null;
        texts.Add(bytes);
        indexes.Add(null);
        var file = texts.Count - 1;
        return Index(file).Program(number) ?? new TextPlace(file, 0, 1);
    }
}
