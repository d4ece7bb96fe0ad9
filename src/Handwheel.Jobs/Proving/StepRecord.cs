using Handwheel.Nc;

namespace Handwheel.Jobs.Proving;

/// <summary>How far one step is.</summary>
sealed record StepRecord
{
    public static StepRecord Untouched { get; } = new();

    /// <summary>Never <see cref="StepState.Waiting"/>: that is worked out from the other steps.</summary>
    public StepState State { get; init; } = StepState.Open;
    public Doer? By { get; init; }
    public Guid Person { get; init; }
    public string? Typed { get; init; }

    /// <summary>Accepted or last read value.</summary>
    public Length? Value { get; init; }
    public int Attempts { get; init; }

    /// <summary>Wrong readings since the step was last opened.</summary>
    public int Wrong { get; init; }

    /// <summary>The expected value that was shown after wrong readings.</summary>
    public Length? Shown { get; init; }
    public bool NotBlind { get; init; }
    public string? Says { get; init; }

    /// <summary>A program saved from the control was compared and is another: no block that happens to be right clears that.</summary>
    public bool FileDiffers { get; init; }

    /// <summary>A correction that was typed once and is not what was worked out: the register to be read again.</summary>
    public Register? CorrectionAgain { get; init; }

    /// <summary>The last entry that changed this step, and who made it.</summary>
    public Doer? Changed { get; init; }

    public bool IsDone => State is StepState.Done or StepState.Deviation;
    public bool IsRead => IsDone || State == StepState.Hazard;

    /// <summary>Open again, but for what was seen to differ: that stays held until somebody writes what was done about it.</summary>
    public StepRecord Reopened(string why, Doer by) =>
        State == StepState.Held ? this with { Changed = by } : Opened(why, by);

    public StepRecord Settled(string done, Doer by) => Opened(Said.In($"Differed: {Says}. Done about it: {done}"), by);

    StepRecord Opened(string why, Doer by) =>
        new()
        {
            Attempts = Attempts,
            Shown = Shown,
            Says = why,
            Changed = by,
        };
}
