namespace Handwheel.Jobs.Proving;

/// <summary>
/// The groups of cards of ready, which a shop may put in another order: none of them waits for another, and the signature waits for all.
/// </summary>
public static class ReadyOrder
{
    public const string Check = "check";
    public const string Program = "program";
    public const string Table = "table";
    public const string Tools = "tools";
    public const string Offsets = "offsets";
    public const string Machine = "machine";

    /// <summary>In the usual order.</summary>
    public static IReadOnlyList<string> All { get; } = [Check, Program, Table, Tools, Offsets, Machine];

    /// <summary>Those named first, then the others in their usual order; none is left out.</summary>
    public static IEnumerable<string> With(IReadOnlyList<string>? first) =>
        (first ?? []).Intersect(All, StringComparer.Ordinal).Union(All, StringComparer.Ordinal);
}
