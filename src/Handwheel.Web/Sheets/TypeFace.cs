using System.Buffers.Binary;
using System.Text;

namespace Handwheel.Web.Sheets;

/// <summary>
/// What the layout needs to know of a TrueType file: which characters it has and how wide they are. Reads the tables
/// <c>head</c>, <c>hhea</c>, <c>hmtx</c> and <c>cmap</c> (format 4) as ISO/IEC 14496-22 describes them.
/// </summary>
public sealed class TypeFace
{
    readonly Dictionary<int, int> _glyphs = [];
    readonly int[] _advances;
    readonly double _unitsPerEm;

    public TypeFace(byte[] file)
    {
        File = file;
        var tables = Tables(file);
        _unitsPerEm = U16(tables["head"] + 18);
        var metrics = U16(tables["hhea"] + 34);
        _advances = new int[metrics];
        for (var i = 0; i < metrics; i++)
            _advances[i] = U16(tables["hmtx"] + (4 * i));
        ReadCharacters(tables["cmap"]);
    }

    public byte[] File { get; }

    public bool Has(Rune character) => _glyphs.ContainsKey(character.Value);

    /// <summary>Width of one character in ems; the character must be one that the face has.</summary>
    public double Advance(Rune character) =>
        _advances[Math.Min(_glyphs[character.Value], _advances.Length - 1)] / _unitsPerEm;

    int U16(int at) => BinaryPrimitives.ReadUInt16BigEndian(File.AsSpan(at));

    static Dictionary<string, int> Tables(byte[] file)
    {
        var tables = new Dictionary<string, int>(StringComparer.Ordinal);
        var count = BinaryPrimitives.ReadUInt16BigEndian(file.AsSpan(4));
        for (var i = 0; i < count; i++)
        {
            var entry = file.AsSpan(12 + (16 * i), 16);
            tables[Encoding.ASCII.GetString(entry[..4])] = (int)BinaryPrimitives.ReadUInt32BigEndian(entry[8..]);
        }
        return tables;
    }

    void ReadCharacters(int cmap)
    {
        for (var i = 0; i < U16(cmap + 2); i++)
        {
            var table = cmap + (int)BinaryPrimitives.ReadUInt32BigEndian(File.AsSpan(cmap + 8 + (8 * i)));
            if (U16(table) == 4)
                ReadSegments(table);
        }
    }

    void ReadSegments(int table)
    {
        var twice = U16(table + 6);
        for (var s = 0; s < twice; s += 2)
        {
            var last = U16(table + 14 + s);
            var first = U16(table + 16 + twice + s);
            var delta = U16(table + 16 + (2 * twice) + s);
            var offsetAt = table + 16 + (3 * twice) + s;
            for (var c = first; c <= last && c != 0xFFFF; c++)
            {
                var offset = U16(offsetAt);
                var glyph = offset == 0 ? c : U16(offsetAt + offset + (2 * (c - first)));
                if (offset == 0 || glyph != 0)
                    glyph = (glyph + delta) & 0xFFFF;
                if (glyph != 0)
                    _glyphs[c] = glyph;
            }
        }
    }
}
