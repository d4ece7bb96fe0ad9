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
                $"{Figures.Whole(program.Length)} bytes",
                $"at most {Figures.Whole(bytesMost)} bytes"
            );
        }
        if (program.IsEmpty)
            throw new InputFault(name, null, null, "an empty file", "a program");
        var binary = FirstBinary(program);
        if (binary < 0)
            return;
        throw new InputFault(
            name,
            program[..binary].Count((byte)'\n') + 1,
            null,
            $"the byte 0x{program[binary]:X2}, which is not text",
            "a program in plain text"
        );
    }

    /// <summary>Control characters that no program text holds. Zero bytes before and after the text are leader of a tape or padding.</summary>
    static int FirstBinary(ReadOnlySpan<byte> program)
    {
        var start = program.IndexOfAnyExcept((byte)0);
        if (start < 0)
            return 0;
        var text = program[start..].TrimEnd((byte)0);
        var at = text.IndexOfAny(NotText);
        return at < 0 ? -1 : start + at;
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
