using System.Text;

namespace Handwheel.Jobs.Checking;

/// <summary>The bytes that were followed: the main program and the subprograms in the order they were opened.</summary>
sealed class ProgramTexts
{
    const int CharactersMost = 200;

    readonly List<(string Name, byte[] Bytes)> files = [];

    public ProgramTexts(string name, byte[] main) => files.Add((name, main));

    public byte[] Main => files[0].Bytes;

    /// <summary>Keeps what <paramref name="find"/> gives, so that its blocks can be quoted.</summary>
    public Func<int, byte[]?> Keeping(Func<int, byte[]?> find) =>
        number =>
        {
            var bytes = find(number);
            if (bytes is not null)
                files.Add((string.Create(System.Globalization.CultureInfo.InvariantCulture, $"O{number}"), bytes));
            return bytes;
        };

    /// <summary>Null for the main program, else the subprogram's O-number.</summary>
    public string? FileName(Where at) => at.File > 0 && at.File < files.Count ? files[at.File].Name : null;

    /// <summary>The block as it stands in the file, without the ends of the line; what cannot be shown is a dot.</summary>
    public string Block(Where at)
    {
        if (at.Line == 0 || at.File >= files.Count)
            return "";
        var bytes = files[at.File].Bytes;
        var start = Math.Clamp(at.Start, 0, bytes.Length);
        var length = Math.Clamp(at.Length, 0, Math.Min(bytes.Length - start, CharactersMost * 4));
        var text = Encoding.UTF8.GetString(bytes, start, length).Trim();
        var shown = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
            shown.Append(CanBeShown(rune) ? rune.ToString() : "·");
        return shown.Length <= CharactersMost ? shown.ToString() : shown.ToString(0, CharactersMost) + "…";
    }

    static bool CanBeShown(Rune rune) =>
        Rune.GetUnicodeCategory(rune)
            is not (
                System.Globalization.UnicodeCategory.Control
                or System.Globalization.UnicodeCategory.Format
                or System.Globalization.UnicodeCategory.PrivateUse
                or System.Globalization.UnicodeCategory.OtherNotAssigned
            )
        || rune.Value == '\t';
}
