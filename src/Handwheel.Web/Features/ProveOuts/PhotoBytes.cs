using System.Buffers.Binary;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>
/// A photo without what the camera wrote beside the picture: where and when it was taken, with what, by whom. The picture's own bytes are
/// copied, never decoded. Segments as in ITU-T T.81 (09/92) Annex B and Exif 2.3 §4.5, chunks as in the PNG specification (W3C, third edition) §5.
/// </summary>
static class PhotoBytes
{
    const byte StartOfScan = 0xDA;
    const byte EndOfImage = 0xD9;
    const byte Comment = 0xFE;
    const byte Exif = 0xE1;
    const int OrientationTag = 0x0112;
    const int PngSignature = 8;
    const int PngAroundData = 12;

    /// <summary>What says how the picture is to be shown: JFIF, a colour profile, the colour transform.</summary>
    static readonly byte[] ApplicationKept = [0xE0, 0xE2, 0xEE];

    static readonly string[] PngDropped = ["tEXt", "zTXt", "iTXt", "eXIf", "tIME"];

    /// <summary>What cannot be read as a whole picture is given back as it came.</summary>
    public static byte[] WithoutNotes(byte[] photo) =>
        (photo.AsSpan().StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P']) ? Png(photo) : Jpeg(photo)) ?? photo;

    static byte[]? Jpeg(ReadOnlySpan<byte> photo)
    {
        using var kept = new MemoryStream(photo.Length);
        kept.Write(photo[..2]);
        for (var at = 2; at + 2 <= photo.Length && photo[at] == 0xFF; )
        {
            var marker = photo[at + 1];
            if (marker == EndOfImage)
            {
                kept.Write(photo.Slice(at, 2));
                return kept.ToArray();
            }
            if (at + 4 > photo.Length)
                return null;
            var length = 2 + BinaryPrimitives.ReadUInt16BigEndian(photo[(at + 2)..]);
            if (length < 4 || at + length > photo.Length)
                return null;
            var segment = photo.Slice(at, length);
            at += length;
            if (marker == StartOfScan)
            {
                var scan = ScanLength(photo[at..]);
                kept.Write(segment);
                kept.Write(photo.Slice(at, scan));
                at += scan;
            }
            else if (marker == Exif && Orientation(segment[4..]) is > 1 and var turned)
                kept.Write(OnlyOrientation(turned));
            else if (!IsNote(marker))
                kept.Write(segment);
        }
        return null;
    }

    static bool IsNote(byte marker) =>
        marker == Comment || (marker is >= 0xE0 and <= 0xEF && !ApplicationKept.Contains(marker));

    /// <summary>Coded picture up to the next marker; a stuffed zero and a restart are part of it.</summary>
    static int ScanLength(ReadOnlySpan<byte> coded)
    {
        for (var i = 0; i + 1 < coded.Length; i++)
            if (coded[i] == 0xFF && coded[i + 1] is not (0 or 0xFF or (>= 0xD0 and <= 0xD7)))
                return i;
        return coded.Length;
    }

    /// <summary>1 to 8 as Exif counts; 0: not said.</summary>
    static int Orientation(ReadOnlySpan<byte> exif)
    {
        if (!exif.StartsWith("Exif\0\0"u8) || exif.Length < 14)
            return 0;
        var tiff = exif[6..];
        var big = tiff[0] == 'M';
        int Short(ReadOnlySpan<byte> at) =>
            big ? BinaryPrimitives.ReadUInt16BigEndian(at) : BinaryPrimitives.ReadUInt16LittleEndian(at);
        var first = big
            ? BinaryPrimitives.ReadUInt32BigEndian(tiff[4..])
            : BinaryPrimitives.ReadUInt32LittleEndian(tiff[4..]);
        if (first + 2 > tiff.Length)
            return 0;
        var directory = tiff[(int)first..];
        var entries = Short(directory);
        for (var i = 0; i < entries && 2 + (i + 1) * 12 <= directory.Length; i++)
            if (directory.Slice(2 + i * 12, 12) is var entry && Short(entry) == OrientationTag)
                return Short(entry[8..]) is > 0 and <= 8 and var said ? said : 0;
        return 0;
    }

    /// <summary>An Exif segment with one directory of one entry: a short, count 1.</summary>
    static byte[] OnlyOrientation(int turned) =>
        [
            0xFF,
            Exif,
            0,
            34,
            .. "Exif\0\0MM\0*"u8,
            0,
            0,
            0,
            8,
            0,
            1,
            OrientationTag >> 8,
            OrientationTag & 0xFF,
            0,
            3,
            0,
            0,
            0,
            1,
            0,
            (byte)turned,
            0,
            0,
            0,
            0,
            0,
            0,
        ];

    static byte[]? Png(ReadOnlySpan<byte> photo)
    {
        using var kept = new MemoryStream(photo.Length);
        kept.Write(photo[..PngSignature]);
        for (var at = PngSignature; at + PngAroundData <= photo.Length; )
        {
            var data = BinaryPrimitives.ReadUInt32BigEndian(photo[at..]);
            if (data > photo.Length - at - PngAroundData)
                return null;
            var chunk = photo.Slice(at, (int)data + PngAroundData);
            var name = System.Text.Encoding.ASCII.GetString(chunk.Slice(4, 4));
            if (!PngDropped.Contains(name, StringComparer.Ordinal))
                kept.Write(chunk);
            if (name == "IEND")
                return kept.ToArray();
            at += chunk.Length;
        }
        return null;
    }
}
