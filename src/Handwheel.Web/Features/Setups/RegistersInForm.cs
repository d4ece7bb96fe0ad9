using System.Globalization;
using Handwheel.Jobs.Readings;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Web.Features.Setups;

/// <summary>A register of a saved file beside what the form has for it.</summary>
/// <param name="Typed">What the form has, as typed; empty: nothing. Null: the form has no place for it.</param>
/// <param name="Difference">The file's value less the form's; null: one of them is no number, or there is no place.</param>
public sealed record RegisterBeside(SavedRegister Saved, string? Typed, Length? Difference)
{
    public bool Differs => Typed is not null && Difference != Length.Zero;

    /// <summary>
    /// A Z that stands higher in the file than in the form, or that nothing in the form can be compared with: a file that was saved
    /// during an air cut holds the raise, and nobody sees that in its digits.
    /// </summary>
    public bool MayBeRaised => Saved.Axis == "z" && (Difference is not { } higher || higher > Length.Zero);
}

/// <summary>Compares the registers of a saved file with the form of a setup, and puts them in where a person says so.</summary>
public sealed class RegistersInForm(SetupForm form, Units units)
{
    public IReadOnlyList<RegisterBeside> Compare(IEnumerable<SavedRegister> saved) =>
        [
            .. saved.Select(s =>
            {
                if (Field(s) is not { } field)
                    return new RegisterBeside(s, null, null);
                var typed = field.Part[field.Path].Trim();
                // An empty wear or common offset is zero in the format; any other empty register is not known.
                var value = typed.Length == 0 && (s.Axis == "wear" || s.Name == "common") ? Length.Zero : Value(typed);
                return new RegisterBeside(s, typed, s.Value - value);
            }),
        ];

    /// <summary>Puts the value into the form's field; a work offset that the form lacks gets a row.</summary>
    public void Take(SavedRegister saved)
    {
        if (Field(saved) is null && IsWorkOffset(saved))
            form.WorkOffsets.Add(new FormPart(SetupFields.WorkOffset) { ["name"] = saved.Name });
        if (Field(saved) is { } field)
            field.Part[field.Path] = Text(saved.Value);
    }

    public string Text(Length value) => value.In(units).ToString("0.#########", CultureInfo.InvariantCulture);

    /// <summary>A work offset of the file that the form has no row for can still be taken; a register of no tool cannot.</summary>
    public static bool IsWorkOffset(SavedRegister saved) => saved.Axis is "x" or "y" or "z" && saved.Name != "common";

    (FormPart Part, string Path)? Field(SavedRegister saved)
    {
        if (saved.Name == "common")
            return (form.CommonOffset, saved.Axis);
        if (IsWorkOffset(saved))
            return form.WorkOffsets.FirstOrDefault(r => r["name"].Trim() == saved.Name) is { } row
                ? (row, saved.Axis)
                : null;
        var (number, length) = (saved.Name[1..], saved.Name[0] == 'H');
        var tool = form.Tools.FirstOrDefault(t => t[length ? "lengthOffset" : "diameterOffset"].Trim() == number);
        return tool is null ? null : (tool, Path(length, saved.Axis == "wear"));
    }

    static string Path(bool length, bool wear) =>
        (length, wear) switch
        {
            (true, false) => "length",
            (true, true) => "lengthWear",
            (false, false) => "diameterValue",
            (false, true) => "diameterWear",
        };

    Length? Value(string typed) =>
        TypedNumber.TryRead(typed, units.ExactDecimals(), out var number, out _) ? number.In(units) : null;
}
