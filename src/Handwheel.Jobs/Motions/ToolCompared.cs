using System.Text.Json.Serialization;

namespace Handwheel.Jobs.Motions;

/// <summary>What a change of program means for one tool.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<ToolChange>))]
public enum ToolChange
{
    /// <summary>The machine does the same.</summary>
    [JsonStringEnumMemberName("same")]
    Same,

    /// <summary>The same way, but another feed, speed, direction, coolant or dwell.</summary>
    [JsonStringEnumMemberName("cuts")]
    Cuts,

    /// <summary>It goes somewhere else, or in another order.</summary>
    [JsonStringEnumMemberName("moves")]
    Moves,

    [JsonStringEnumMemberName("added")]
    Added,

    [JsonStringEnumMemberName("gone")]
    Gone,

    /// <summary>What it does could not be told, before or after: it counts as changed.</summary>
    [JsonStringEnumMemberName("not-known")]
    NotKnown,
}

/// <summary>One tool before and after a change, in words with numbers: <c>T4 goes 0.0500 in deeper from line 212 …</c></summary>
public sealed record ToolCompared(int Tool, ToolChange Change, string Words);
