using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Features.PathView;

/// <summary>
/// What is left of the blanks for a page's picture: little-endian words of 4 bytes: a mark and the number of blanks, then for each its columns and
/// rows, as floats lowest and highest X, lowest and highest Y and its underside (setup space, the setup's units), and the heights above the
/// underside, row by row from the front left corner. <c>path/as-cut.js</c> reads it.
/// </summary>
public static class AsCutBytes
{
    /// <summary>"HWC1".</summary>
    const int Mark = 0x31435748;

    const int WordsOfBlank = 7;

    public static byte[] Of(IReadOnlyList<AsCutBlank> blanks)
    {
        var bytes = new byte[4 * (2 + blanks.Sum(b => WordsOfBlank + b.Heights.Length))];
        var words = MemoryMarshal.Cast<byte, int>(bytes.AsSpan());
        (words[0], words[1]) = (Mark, blanks.Count);
        var left = words[2..];
        foreach (var blank in blanks)
        {
            (left[0], left[1]) = (blank.Columns, blank.Rows);
            double[] ends = [blank.MinX, blank.MaxX, blank.MinY, blank.MaxY, blank.Bottom];
            for (var i = 0; i < ends.Length; i++)
                left[2 + i] = BitConverter.SingleToInt32Bits((float)ends[i]);
            MemoryMarshal.Cast<float, int>(blank.Heights.Span).CopyTo(left[WordsOfBlank..]);
            left = left[(WordsOfBlank + blank.Heights.Length)..];
        }
        if (!BitConverter.IsLittleEndian)
            BinaryPrimitives.ReverseEndianness(words, words);
        return bytes;
    }
}
