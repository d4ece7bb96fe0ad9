using System.Buffers.Binary;
using System.IO.Compression;

namespace Handwheel.Web.Sheets.Pictures;

/// <summary>Grey pixels as a PNG file (ISO/IEC 15948): 8 bits a pixel, no filter, nothing but the pixels, so that the same grey gives the same bytes.</summary>
static class GreyPng
{
    static ReadOnlySpan<byte> Signature => [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0d, 0x0a, 0x1a, 0x0a];

    static readonly uint[] Remainders = [.. Enumerable.Range(0, 256).Select(i => Remainder((uint)i))];

    public static byte[] Write(int columns, int rows, ReadOnlySpan<byte> grey)
    {
        using var file = new MemoryStream();
        file.Write(Signature);
        Span<byte> head = stackalloc byte[13];
        head.Clear();
        BinaryPrimitives.WriteInt32BigEndian(head, columns);
        BinaryPrimitives.WriteInt32BigEndian(head[4..], rows);
        head[8] = 8;
        Chunk(file, "IHDR"u8, head);
        using var packed = new MemoryStream();
        using (var zlib = new ZLibStream(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            for (var row = 0; row < rows; row++)
            {
                zlib.WriteByte(0);
                zlib.Write(grey.Slice(row * columns, columns));
            }
        }
        Chunk(file, "IDAT"u8, packed.ToArray());
        Chunk(file, "IEND"u8, []);
        return file.ToArray();
    }

    static void Chunk(MemoryStream file, ReadOnlySpan<byte> type, ReadOnlySpan<byte> content)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, content.Length);
        file.Write(number);
        file.Write(type);
        file.Write(content);
        BinaryPrimitives.WriteUInt32BigEndian(number, ~Check(Check(uint.MaxValue, type), content));
        file.Write(number);
    }

    /// <summary>The cyclic redundancy check of the standard's annex D.</summary>
    static uint Check(uint sum, ReadOnlySpan<byte> bytes)
    {
        foreach (var value in bytes)
            sum = Remainders[(sum ^ value) & 0xff] ^ (sum >> 8);
        return sum;
    }

    static uint Remainder(uint value)
    {
        for (var bit = 0; bit < 8; bit++)
            value = (value & 1) != 0 ? 0xedb88320 ^ (value >> 1) : value >> 1;
        return value;
    }
}
