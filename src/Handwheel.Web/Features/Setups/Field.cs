namespace Handwheel.Web.Features.Setups;

public enum FieldKind
{
    Text,

    /// <summary>A number in the one grammar for typed numbers.</summary>
    Number,

    /// <summary>A whole number, zero or more.</summary>
    Whole,

    /// <summary>One of <see cref="Field.Choices"/>.</summary>
    Choice,

    /// <summary>Yes, no, or not said.</summary>
    YesNo,

    /// <summary>Several entries, one a line.</summary>
    Lines,
}

/// <summary>One field of a form over part of a setup.</summary>
/// <param name="Path">Where it stands in the part, dots between: <c>travel.x.0</c>.</param>
/// <param name="Label">What people call it, with which it is named in a refusal.</param>
/// <param name="Hint">One line below the field; empty: none.</param>
public sealed record Field(string Path, string Label, FieldKind Kind = FieldKind.Number, string Hint = "")
{
    public IReadOnlyList<string> Choices { get; init; } = [];

    /// <summary>A choice as people say it.</summary>
    public Func<string, string> Said { get; init; } = InWords;

    /// <summary>A choice of the file as people say it: <c>withZ</c> is <c>with the next Z</c>.</summary>
    public static string InWords(string choice) =>
        choice switch
        {
            "withZ" => "with the next Z",
            "atOnce" => "at once",
            "keep" => "kept",
            "cancel" => "cancelled",
            "units" => "whole inches or millimetres",
            "increments" => "least increments",
            "towardZero" => "toward zero",
            "down" => "down, to the more negative",
            "truth" => "true or false",
            "straight" => "straight to their end",
            "cuttingSpeed" => "cutting speed",
            "feedPerTooth" => "feed a tooth",
            "feedPerRevolution" => "feed a turn",
            "depthOfCut" => "depth at once, diameters",
            "commonPractice" => "common practice",
            "shopsOwn" => "the shop's own",
            "dogleg" => "each axis at its own rate",
            _ => choice,
        };

    /// <summary>Narrow fields stand side by side in a row of a table.</summary>
    public bool Wide => Kind is FieldKind.Text or FieldKind.Lines;
}
