namespace Handwheel.Web.Features.Demo;

/// <summary>The clock of the demo's past: it stands where the story is, and the story moves it.</summary>
sealed class DemoClock(DateTimeOffset start) : TimeProvider
{
    DateTimeOffset now = start;

    public override DateTimeOffset GetUtcNow() => now;

    public void Set(DateTimeOffset at) => now = at;

    public void Pass(TimeSpan time) => now += time;
}
