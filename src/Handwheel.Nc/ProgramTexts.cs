using System.Text;

namespace Handwheel.Nc;

/// <summary>Where a block begins: its text, the byte and the line.</summary>
readonly record struct TextPlace(int File, int Pos, int Line);

/// <summary>The texts of a run: the main program, and the files of subprograms in the order they were opened.</summary>
sealed class ProgramTexts(ReadOnlyMemory<byte> program, Func<CalledProgram, byte[]?>? open)
{
    const int FilesMost = 1000;

    readonly List<ReadOnlyMemory<byte>> texts = [program];
    readonly List<BlockIndex?> indexes = [null];
    readonly Dictionary<(int, string?), TextPlace?> opened = [];

    public ReadOnlyMemory<byte> this[int file] => texts[file];

    /// <summary>
    /// Where a program begins: in the text that calls it, in the main one, or in a file of its own.
    /// </summary>
    /// <param name="elsewhereFirst">A call to a program that is kept outside the control: its own file goes before the texts.</param>
    public TextPlace? Find(in CalledProgram called, bool elsewhereFirst = false)
    {
        if (elsewhereFirst && Opened(called) is { } outside)
            return outside;
        return In(called.File, called) ?? In(0, called) ?? Opened(called);
    }

    TextPlace? In(int file, in CalledProgram called) =>
        called.Name is { } name ? Index(file).Program(name) : Index(file).Program(called.Number);

    TextPlace? Opened(in CalledProgram called)
    {
        if (!opened.TryGetValue((called.Number, called.Name), out var found))
            opened[(called.Number, called.Name)] = found = Open(called);
        return found;
    }

    public BlockIndex Index(int file) => indexes[file] ??= new(texts[file], file);

    /// <summary>A name as it is compared: small letters, no blanks around it.</summary>
    public static string NormalName(ReadOnlySpan<byte> name) =>
        Encoding.Latin1.GetString(name).Trim().ToLowerInvariant();

    TextPlace? Open(in CalledProgram called)
    {
        if (texts.Count >= FilesMost || open?.Invoke(called) is not { } bytes)
            return null;
        texts.Add(bytes);
        indexes.Add(null);
        var file = texts.Count - 1;
        return In(file, called) ?? new TextPlace(file, 0, 1);
    }
}
