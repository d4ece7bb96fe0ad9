using System.Globalization;

namespace Handwheel.Nc;

/// <summary>A program that a block calls and that its own text does not hold: looked for in other files.</summary>
/// <param name="Number">0 where it is called by name.</param>
/// <param name="Name">As written between the brackets, without blanks around it and in small letters; null where it is called by number.</param>
/// <param name="File">The text that calls: 0 the main program, others in the order they were opened.</param>
/// <param name="Line">Line of the call in that text, from 1.</param>
public readonly record struct CalledProgram(int Number, string? Name, int File, int Line)
{
    /// <summary><c>O1234</c>, or the name.</summary>
    public override string ToString() => Name ?? "O" + Number.ToString(CultureInfo.InvariantCulture);
}
