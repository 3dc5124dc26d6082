namespace EarCoach.Engine.Tests.Sessions;

/// <summary>A clock that moves when it is told to.</summary>
internal sealed class StillTime(DateTimeOffset now) : TimeProvider
{
    private DateTimeOffset _now = now;

    public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

    public override DateTimeOffset GetUtcNow() => _now;

    public void Advance(TimeSpan by) => _now += by;
}
