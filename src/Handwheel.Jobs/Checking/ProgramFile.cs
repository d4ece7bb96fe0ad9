using Handwheel.Jobs.Setups;

namespace Handwheel.Jobs.Checking;

/// <summary>What makes a file a program at all, before anything is read in it.</summary>
public static class ProgramFile
{
    /// <exception cref="InputFault">The file is larger than <paramref name="bytesMost"/>, empty, or not text.</exception>
    public static void Refuse(ReadOnlySpan<byte> program, string name, long bytesMost)
    {
        if (program.Length > bytesMost)
        {
            throw new InputFault(
                name,
                null,
                null,
                Said.Kept($"{Figures.Whole(program.Length)} bytes"),
                Figures.WholeMiB(bytesMost) is { } whole
                    ? Said.Kept($"at most {whole} MiB")
                    : Said.Kept($"at most {Figures.Whole(bytesMost)} bytes")
            );
        }
        if (program.IsEmpty)
            throw new InputFault(name, null, null, Said.Kept("an empty file"), Said.Kept("a program"));
        if (IsUtf16(program))
            throw new InputFault(
                name,
                null,
                null,
                Said.Kept("text in UTF-16, two bytes for each letter"),
                Said.Kept("one byte for each letter: save the program as plain text (ASCII or UTF-8)")
            );
        var binary = FirstBinary(program);
        if (binary < 0)
            return;
        throw new InputFault(
            name,
            program[..binary].Count((byte)'\n') + 1,
            null,
            Said.Kept($"the byte 0x{program[binary]:X2}, which is not text"),
            Said.Kept("a program in plain text")
        );
    }

    /// <summary>A mark at the beginning says so, or every second byte of the first letters is zero.</summary>
    static bool IsUtf16(ReadOnlySpan<byte> program) =>
        program
            is [0xFF, 0xFE, ..]
                or [0xFE, 0xFF, ..]
                or [not 0, 0, not 0, 0, not 0, 0, ..]
                or [0, not 0, 0, not 0, 0, not 0, ..];

    /// <summary>Control characters that no program text holds. Zero bytes before and after the text, and behind the end of a line, are leader of a tape or padding.</summary>
    static int FirstBinary(ReadOnlySpan<byte> program)
    {
        var at = Math.Max(0, program.IndexOfAnyExcept((byte)0));
        if (program[at] == 0)
            return 0;
        var end = program.TrimEnd((byte)0).Length;
        while (program[at..end].IndexOfAny(NotText) is var next and >= 0)
        {
            at += next;
            if (program[at] != 0 || program[at - 1] is not ((byte)'\n' or (byte)'\r'))
                return at;
            at += program[at..].IndexOfAnyExcept((byte)0);
        }
        return -1;
    }

    static readonly System.Buffers.SearchValues<byte> NotText = System.Buffers.SearchValues.Create(
        (ReadOnlySpan<byte>)[0, 1, 4, 5, 6, 7, 8, 11, 14, 15, 16, 21, 22, 23, 24, 25, 27, 28, 29, 30, 31]
    );

    /// <summary>Lines of the file: line ends, and what stands after the last one. LF, CR LF and CR all end a line.</summary>
    public static int Lines(ReadOnlySpan<byte> program)
    {
        var lines = program.Count((byte)'\n') + program.Count((byte)'\r') - program.Count("\r\n"u8);
        return program.IsEmpty || program[^1] is (byte)'\n' or (byte)'\r' ? lines : lines + 1;
    }
}
